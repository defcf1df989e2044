"""The stretches of a sit in words: lines of the clock, the marks beside it, until when."""

from collections.abc import Sequence
from dataclasses import dataclass

from core.answer.one_sit import SitAnswer, StandSit
from core.judge import stand as a
from core.say.pieces.stretches import TURNS, Stretch, stretches, turns_s
from core.say.words import VERDICTS_SAID, clock_digits, clock_text
from core.sit.minutes import ALL_DAY, EVENING, MORNING, SHORT_MIN
from core.sit.prepare import Sit
from core.sit.rank import LEAVE_BEFORE_S
from core.sit.verdicts import CLEAN, GO, JUST_OFF, STAY
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

GOOD = (CLEAN, JUST_OFF)
PLAIN_S = 4 * SECONDS_PER_HOUR  # in a longer stretch am and pm are both told
SPANS = {MORNING: "all morning", EVENING: "all evening", ALL_DAY: "all day"}
# what keeps a hunter out whatever the hours are; of the causes of a stand
OUT_SAID = {
    a.OUT_OF_SEASON: "no season",
    a.NO_MINUTES: "closed hours",
    a.IS_CLOSED: "closed",
    a.NOT_NOW: "not now",
    a.IS_TAKEN: "taken",
    a.STORM: "too much wind",
    a.GUST: "too much wind",
    a.STRONG: "too much wind",
    a.WAY_IN: "way in wrong",
    a.WAY_OUT: "way out wrong",
    a.NO_WAY: "no way in",
}
NOT_AT_ALL, UNSURE = "not at all", "can't call"
NO_TIME = {*OUT_SAID.values(), NOT_AT_ALL, UNSURE}


@dataclass(frozen=True, slots=True)
class ClockMark:
    """What happens at an instant of a sit. [epoch s]"""

    time_s: int
    words: str


def clock_marks(sit: Sit, seat: StandSit) -> tuple[ClockMark, ...]:
    """Light, sun, the turn and when to be down, in order of time; those of the window only.

    Args: the sit; the stand in it.
    """
    clock = sit.clock
    if clock.start_s is None or clock.end_s is None:
        return ()
    at = [(clock.day.sunrise_s, "sunrise"), (clock.day.sunset_s, "sunset")]
    if not clock.outside:
        at += [(clock.legal_start_s, "legal light"), (clock.legal_end_s, "legal light ends")]
    at += [(time_s, "the turn") for time_s in turns_s(sit, seat)]
    down_s = leave_by_s(sit, seat)
    if down_s is not None:
        at.append((down_s, "leave by"))
    if seat.not_before_s is not None:
        at.append((seat.not_before_s, "not before"))
    inside = [(t, words) for t, words in at if clock.start_s <= t <= clock.end_s]
    return tuple(ClockMark(int(time_s), words) for time_s, words in sorted(inside))


def leave_by_s(sit: Sit, seat: StandSit) -> int | None:
    """When to leave a stand whose air is good at first and then no more; else None. [epoch s]

    Of an evening too: it is not go then, but whoever sits it all the same plans by this.
    Args: the sit; the stand in it.
    """
    if seat.leave_by_s is not None or sit.clock.sit != EVENING or seat.group == GO:
        return seat.leave_by_s
    if seat.not_before_s is not None:  # what can be sat lies after the wrong hours
        return None
    good = [one.verdict in GOOD for one in stretches(sit, seat)]
    first = good.index(False) if False in good else 0
    if not first or any(good[first:]):
        return None
    down_s = stretches(sit, seat)[first].start_s - LEAVE_BEFORE_S
    return down_s if sit.clock.start_s is not None and down_s > sit.clock.start_s else None


def stretch_line(one: Stretch, timezone: str) -> str:
    """A stretch as a line: "4:02 to 5:27 pm: up to the E, Bench run, like 150 yd: just-off".

    Args: the stretch; the zone of the clock.
    """
    start, end = clock_digits(one.start_s, timezone), clock_text(one.end_s, timezone)
    if one.end_s - one.start_s > PLAIN_S:  # morning and evening may be mistaken
        start = clock_text(one.start_s, timezone)
    told = one.lies if one.way == TURNS else ", ".join(filter(None, (one.way, one.lies)))
    head = f"{TURNS}, " if one.way == TURNS else ""
    return f"{start} to {end}: {head}{told}: {VERDICTS_SAID[one.verdict]}."


def clock_lines(sit: Sit, seat: StandSit) -> list[str]:
    """The whole clock of a stand in words, a line for each stretch, and its marks in one.

    Args: the sit; the stand in it.
    """
    lines = [stretch_line(one, sit.timezone) for one in stretches(sit, seat)]
    marks = [
        f"{mark.words} {clock_text(mark.time_s, sit.timezone)}" for mark in clock_marks(sit, seat)
    ]
    told = ", ".join(marks)
    return [*lines, f"{told[:1].upper()}{told[1:]}."] if told else lines


def until_text(sit: Sit, seat: StandSit) -> str:
    """Until when a stand can be sat, in a few words: "until 5:27", "from 6:07", "not at all".

    Args: the sit; the stand in it. A stand that something else than its air keeps out is told
    by that; one whose air may go any way by what the slope's own air would likely make of it.
    """
    by_air = {a.PRIME_HOUR, a.AIR_SHARE} & set(seat.causes)
    for cause in seat.causes:  # in the order in which they are said
        if cause in a.RULED_OUT or (cause in OUT_SAID and not by_air):
            return OUT_SAID[cause]
    told = stretches(sit, seat, named=False)
    if good := _good_spans(sit, told, [one.verdict in GOOD for one in told]):
        return good
    if likely := _good_spans(sit, told, [one.likely in GOOD for one in told]):
        return f"likely {likely}"
    return NOT_AT_ALL if seat.group == STAY else UNSURE


def _good_spans(sit: Sit, told: Sequence[Stretch], good: Sequence[bool]) -> str:
    """When the air of some stretches is good, by the clock; empty for never."""
    runs: list[list[int]] = []
    for one, holds in zip(told, good, strict=True):
        if not holds:
            continue
        if runs and runs[-1][1] == one.start_s:
            runs[-1][1] = one.end_s
        else:
            runs.append([one.start_s, one.end_s])
    long = [run for run in runs if run[1] - run[0] >= SHORT_MIN * SECONDS_PER_MINUTE]
    return ", ".join(_run_text(sit, run, told[0].start_s, told[-1].end_s) for run in long)


def _run_text(sit: Sit, run: Sequence[int], first_s: int, last_s: int) -> str:
    start, end = (clock_digits(time_s, sit.timezone) for time_s in run)
    if run[0] == first_s:
        return SPANS[sit.clock.sit] if run[1] == last_s else f"until {end}"
    return f"from {start}" if run[1] == last_s else f"{start} to {end}"


def ends_text(sit: Sit, seat: StandSit) -> str:
    """Until when a sit that a wrong hour ends is what it is called: "until 9:00 am, wrong wind
    from 10:10 am". Args: the sit; the stand in it."""
    first_wrong, rows = int(seat.judged.first_wrong[0]), seat.rows
    worse = (seat.hours.verdict > seat.verdict) & rows.deciding
    wrong = clock_text(int(rows.start_s[first_wrong]), sit.timezone)
    first = int(worse.argmax()) if worse.any() else first_wrong
    if first >= first_wrong:
        return f"until {wrong}"
    return f"until {clock_text(int(rows.start_s[first]), sit.timezone)}, wrong wind from {wrong}"


def until_line(answer: SitAnswer) -> str:
    """Which stand can be sat until when, in one line, best first.

    Args: the answer. Stands of which no time is told come last, by what is told of them.
    """
    timed: list[str] = []
    rest: dict[str, list[str]] = {}
    for seat in answer.stands:
        words = until_text(answer.sit, seat)
        if words in NO_TIME:
            rest.setdefault(words, []).append(seat.stand.name)
        else:
            timed.append(f"{seat.stand.name} {words}")
    told = [f"Good air by the clock: {'; '.join(timed)}."] if timed else []
    told += [f"{words[:1].upper()}{words[1:]}: {', '.join(rest[words])}." for words in rest]
    return " ".join(told)
