"""What a changed setting makes of the next answer, before it is kept."""

from collections.abc import Iterable

from core.answer.one_sit import SitAnswer
from core.criticism.finding import Finding
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


MOST_TOLD = 5


def tried_criticism(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> list[str]:
    """What a changed limit makes of the criticism. Args: what is said now; what would be."""
    was, now = {f.key for f in before}, {f.key for f in after}
    more = [f for f in after if f.key not in was]
    less = [f for f in before if f.key not in now]
    if not more and not less:
        return [f"The criticism stays the same: {_things(len(before))}."]
    head = f"The criticism: {_things(len(before))} as it is, {len(after)} with this."
    return [head, *_listed("New", more), *_listed("Gone", less)]


def _things(count: int) -> str:
    return "1 thing" if count == 1 else f"{count} things"


def _listed(word: str, some: Iterable[Finding]) -> list[str]:
    named = [f"{f.name}: {f.text}" for f in some]
    rest = [f"{len(named) - MOST_TOLD} more"] if len(named) > MOST_TOLD else []
    return [f"{word}: {'; '.join([*named[:MOST_TOLD], *rest])}."] if named else []
