"""The first screen in words: the few things a hunter reads before anything else.

The same parts head the home screen, the page for the pocket and, in fewer words, the
command line; they are worked out here once.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.answer.chances import Chances
from core.answer.change import works_by_degree
from core.answer.one_sit import StandSit
from core.say.cautions import warnings
from core.say.chance.words import TOSS_UP, is_toss_up
from core.say.hunters.closed import closed_text
from core.say.hunters.orange import orange_text
from core.say.log.felt import felt_here
from core.say.pieces.told import ends_text
from core.say.reason_kinds import (
    AirOnTrail,
    AirReaches,
    AnyWay,
    CantCall,
    Reason,
    SlopeTurn,
    SmallTurn,
    Walk,
)
from core.say.reason_texts import (
    below_group,
    reason_text,
    still_text,
    walk_air_text,
    watch_text,
)
from core.say.reasons import reasons, walk_of
from core.say.what_would_change import slope_text, spare_text
from core.say.words import (
    GROUPS_SAID,
    VERDICTS_SAID,
    at_time,
    noted,
    place_text,
    wind_line,
)
from core.sit.minutes import ALL_DAY, EVENING, MORNING, WHOLE
from core.sit.prepare import Sit
from core.sit.scene import IN, OUT
from core.sit.verdicts import CANT, CLEAN, STAY, WRONG
from core.units import SECONDS_PER_MINUTE

SPAN_SAID = {MORNING: "all morning", EVENING: "all evening"}
NOT_CONFIRMED = "not confirmed: check your state's rule"
TROUBLES = (AirReaches, CantCall, AirOnTrail, SlopeTurn, AnyWay)
GROUPS_TOLD = ("Go", "Can't call", "Stay out")


@dataclass(frozen=True, slots=True)
class AnswerHead:
    """What heads an answer. Times are (clock, what happens then)."""

    group: int
    verdict: int
    title: str  # GO, CAN'T CALL, STAY OUT; of a toss-up, that it is one
    heading: str
    summary: str
    times: tuple[tuple[str, str], ...]
    way_in: str
    wind: str
    warnings: tuple[str, ...]  # thunder, heavy rain, gusts, ice
    noted: tuple[str, ...]  # what a reader noted of the wind
    trouble: str
    spare: str
    slope: str  # where the slope's own air beats the wind
    note: str
    orange: str = ""


def head_of(
    sit: Sit, seat: StandSit, now_s: float | None = None, chances: Chances | None = None
) -> AnswerHead:
    """The head of an answer.

    Args: the sit; the stand in it; the clock for the forecast's age [epoch s], None
    where no age is to be told; the chances of the sit.
    Returns: plain words; nothing in them is escaped.
    """
    why = reasons(sit, seat)
    works = works_by_degree(sit, seat)
    heading = seat.stand.name
    if seat.group == STAY:
        heading = "Stay out"
    elif seat.group == CANT:
        heading = "Can't call"
    return AnswerHead(
        group=seat.group,
        verdict=seat.verdict,
        title=TOSS_UP if is_toss_up(chances, seat) else GROUPS_SAID[seat.group],
        heading=heading,
        summary=_summary(sit, seat, why),
        times=_times(sit, seat),
        way_in=way_in_text(sit, seat),
        wind=f"{wind_line(sit, now_s)} {felt_here(sit, seat)}".rstrip(),
        noted=tuple(noted(sit.weather.notes)),
        warnings=tuple(warnings(sit, seat)),
        trouble=f"{late_text(sit, seat, now_s)} {_trouble(sit, seat, why)}".strip(),
        spare=spare_text(sit, works),
        slope=slope_text(sit, seat),
        note=legal_note(sit),
        orange=" ".join(filter(None, (orange_text(sit), closed_text(sit)))),
    )


def _summary(sit: Sit, seat: StandSit, why: Sequence[Reason]) -> str:
    if seat.seated_s is None:
        return reason_text(sit, why[0])
    if seat.group == STAY:
        return f"Least bad: {seat.stand.name}. {reason_text(sit, why[0])}"
    if seat.group == CANT:
        return f"First, if you go at all: {seat.stand.name}. {below_group(sit, CANT, why[0])}"
    if early := shortened_text(sit, seat):
        return f"{early} {way_out_text(sit, seat)}".rstrip()
    told = [course_text(sit, seat), way_out_text(sit, seat), watch_text(sit, seat)]
    return " ".join(one for one in told if one)


def shortened_text(sit: Sit, seat: StandSit) -> str:
    """Until when, or from when on, a sit holds that wrong hours shorten; empty where none do.
    Args: the sit; the stand."""
    head = VERDICTS_SAID[seat.verdict].capitalize()
    if seat.leave_by_s is not None:
        return f"{head} {ends_text(sit, seat)}. Be down by {at_time(sit, seat.leave_by_s)}."
    if seat.not_before_s is not None:
        return f"{head}, but not before {at_time(sit, seat.not_before_s)}."
    return ""


def way_out_text(sit: Sit, seat: StandSit) -> str:
    """What a wrong way out reaches; empty where it is not wrong. Args: the sit; the stand."""
    if seat.way_out is None or seat.way_out.verdict[0] != WRONG:
        return ""
    return reason_text(sit, walk_of(sit, seat.way_out, OUT))


def course_text(sit: Sit, seat: StandSit) -> str:
    """The hours of a sit in a sentence: all alike, or the most of them and which are not.

    Args: the sit; the stand in it.
    """
    hours, minutes = np.asarray(seat.hours.verdict), seat.rows.minutes
    span = SPAN_SAID.get(sit.clock.sit, "all day")
    if not len(hours) or (hours == hours[0]).all():
        word = VERDICTS_SAID[int(hours[0]) if len(hours) else seat.verdict]
        return f"{word.capitalize()} {span}."
    usual = int(np.bincount(hours, weights=minutes).argmax())
    word = VERDICTS_SAID[usual].capitalize()
    other = np.flatnonzero(hours != usual)
    if (hours[other] == hours[other[0]]).all() and len(other) == other[-1] - other[0] + 1:
        return f"{word}, but {_run_told(sit, seat, int(other[0]), int(other[-1]) + 1)}."
    count, unit = np.ones(len(hours)), "hours"
    if (seat.hours.kind != WHOLE).any():
        count, unit = minutes, "minutes"

    def some(verdict: int) -> str:
        return f"{count[hours == verdict].sum():.0f}"

    rest = [f"{VERDICTS_SAID[v]} in {some(v)}" for v in dict.fromkeys(hours[other])]
    return f"{word} in {', '.join([f'{some(usual)} of {count.sum():.0f} {unit}', *rest])}."


def _run_told(sit: Sit, seat: StandSit, first: int, end: int) -> str:
    """One run of rows that are alike: what they are, and from when to when."""
    hours, starts = seat.hours.verdict, seat.rows.start_s
    since = f" from {at_time(sit, starts[first])}" if first else ""
    until = f" until {at_time(sit, starts[end])}" if end < len(hours) else ""
    return f"{VERDICTS_SAID[int(hours[first])]}{since}{until}"


def _times(sit: Sit, seat: StandSit) -> tuple[tuple[str, str], ...]:
    clock, told = sit.clock, []
    if seat.leave_truck_s is not None:
        told.append((at_time(sit, seat.leave_truck_s), f"leave {truck_name(sit, seat)}"))
    if seat.seated_s is not None:
        told.append((at_time(sit, seat.seated_s), "seated"))
    if clock.outside or clock.season is None:
        told.append(("none", "legal light: no season"))
    else:
        star = "" if clock.season.checked_on else "\N{NO-BREAK SPACE}*"
        first, word = (
            (clock.legal_end_s, "ends") if clock.sit == EVENING else (clock.legal_start_s, "")
        )
        told.append((at_time(sit, first), f"legal light {word}".rstrip() + star))
    return tuple(told)


def truck_name(sit: Sit, seat: StandSit) -> str:
    """Where the way in begins: the name of a truck spot within 60 m, else the truck.

    Args: the sit; the stand in it.
    """
    if seat.way_in is None:
        return "the truck"
    start = seat.way_in.way.path_m[0]
    for thing in sit.scene.ground.marks:
        if thing.kind == "truck" and thing.name:
            at = sit.scene.plane.points(thing.points)[0]
            if float(np.hypot(*(at - start))) < 60.0:
                return thing.name
    return "the truck"


def way_in_text(sit: Sit, seat: StandSit) -> str:
    """The way in: its name, length, time, air, and the trails it crosses.

    Args: the sit; the stand in it.
    """
    if seat.seated_s is None:
        return "None: nobody sits in closed hours."
    if seat.way_in is None:
        return "None drawn: draw one on the map."
    way = seat.way_in.way
    crossed = [sit.scene.ground.name_of(x) for x in sorted(way.crosses)]
    where = " before the shot" if seat.way_in.crossed_before_shot else ""
    trails = f"Crosses {' and '.join(crossed)}{where}." if crossed else "Crosses no trail."
    walk = walk_of(sit, seat.way_in, IN)
    told = walk.verdict != CLEAN and not walk.crossed  # those are told below
    air = walk_air_text(sit, walk) if told else VERDICTS_SAID[walk.verdict]
    minutes = f"{way.minutes} minute{'s' if way.minutes != 1 else ''}"
    return (
        f"{walk.lane}, {place_text(way.length_m)}, {minutes}. {air[:1].upper()}{air[1:]}. {trails}"
    )


def _trouble(sit: Sit, seat: StandSit, why: Sequence[Reason]) -> str:
    if seat.group == STAY:
        return _next_reason(sit, why)
    if seat.group == CANT:
        return still_text(sit, seat, why) or _next_reason(sit, why)
    for reason in why:
        if isinstance(reason, TROUBLES):
            return reason_text(sit, reason)
    if seat.verdict != CLEAN:  # a wrong way out is told in the summary
        return "" if isinstance(why[0], Walk) else reason_text(sit, why[0])
    small = [reason_text(sit, one) for one in why if isinstance(one, SmallTurn)]
    return " ".join(["Nothing goes wrong while this wind holds.", *small])


def _next_reason(sit: Sit, why: Sequence[Reason]) -> str:
    """The second reason; pieces too short to count are none here."""
    rest = [one for one in why[1:] if not (isinstance(one, AirReaches) and one.is_short)]
    return reason_text(sit, rest[0]) if rest else ""


def legal_note(sit: Sit) -> str:
    """What the star beside legal light means; empty where the rule was confirmed.

    Args: the sit.
    """
    season = sit.clock.season
    if sit.clock.outside or season is None or season.checked_on:
        return ""
    before, after = season.before_sunrise_min, season.after_sunset_min
    if sit.clock.sit == EVENING:
        return f"* {after:.0f} minutes after sunset, {NOT_CONFIRMED}."
    return f"* {before:.0f} minutes before sunrise, {NOT_CONFIRMED}."


def at_truck_text(sit: Sit, seat: StandSit) -> str:
    """When to be at the truck to gear up; empty without a way in. Args: as `head_of`."""
    if seat.leave_truck_s is None:
        return ""
    at = seat.leave_truck_s - sit.scene.ground.sit.gear_up_min * SECONDS_PER_MINUTE
    return f"At the truck {at_time(sit, at)} to gear up."


def late_text(sit: Sit, seat: StandSit, now_s: float | None) -> str:
    """That the time to leave the truck has passed; empty before it and after the sit.

    Args: the sit; the stand in it; the clock [epoch s] or None.
    """
    if now_s is None or seat.leave_truck_s is None:
        return ""
    if not seat.leave_truck_s < now_s < (sit.clock.end_s or sit.clock.legal_end_s):
        return ""
    return "The time to leave the truck has passed."


def sit_line(sit: Sit, *, short: bool = False) -> str:
    """The property, the date and the sit in a line.

    Args: the sit; whether the property's name is left out.
    """
    date = sit.clock.date
    when = f"{date:%a} {date.day} {date:%b}"
    word = "all day" if sit.clock.sit == ALL_DAY else sit.clock.sit
    head = "" if short else f"{sit.scene.ground.name} · "
    return f"{head}{when} · {word}"
