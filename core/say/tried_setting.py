"""What a changed setting makes of the next answer, before it is kept."""

from core.answer.one_sit import SitAnswer
from core.say.answer_lines import headline, times_line
from core.say.headline import sit_line
from core.say.words import wind_text


def tried_lines(before: SitAnswer, after: SitAnswer) -> list[str]:
    """The next answer as it is and as it would be.

    Args: the answer of one sit by the rules as they are; by the changed ones.
    """
    sit = before.sit
    head = f"{sit_line(sit, short=True)}, {wind_text(sit)}."
    was, now = told_short(before), told_short(after)
    if was == now:
        return [f"{head} The answer stays the same: {was}"]
    return [head, f"As it is: {was}", f"With this: {now}"]


def told_short(answer: SitAnswer) -> str:
    """An answer in two sentences. Args: the answer. Missing: without stands it says so."""
    best = answer.best
    if best is None:
        return "No stands yet."
    return f"{headline(best)} {times_line(answer.sit, best)} Range {best.range_yd:.0f} yd."
