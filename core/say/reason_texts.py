"""Reasons as sentences: the only place where a reason becomes words."""

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from core.answer.one_sit import StandSit
from core.judge import stand as a
from core.judge.causes import CAUSE_WORDS, IS_CALM, IS_LIGHT, IS_TURNING, IS_VARIABLE
from core.say.log.felt import felt_text
from core.say.reason_kinds import (
    AirAt,
    AirOnTrail,
    AirReaches,
    AnyWay,
    AsFelt,
    BeDown,
    CantCall,
    Fact,
    KeptOut,
    NotBefore,
    NothingInRange,
    NotJudged,
    OverLand,
    Reason,
    RestedSince,
    ShortHour,
    SlopeTurn,
    SmallTurn,
    StillAirGoes,
    Walk,
    WayCrosses,
)
from core.say.reasons import nothing_in_range, reasons, rest_of
from core.say.why.slope_texts import over_land_text, still_air_text, turn_text
from core.say.words import VERDICTS_SAID, at_time, days_ago, in_a_row, like_text, minutes_text
from core.sit.prepare import Sit
from core.sit.scene import IN, OUT
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, WRONG
from core.units import SECONDS_PER_MINUTE

CAUSES_SAID = {
    "calm": "no wind",
    "variable": "light wind from no one direction",
    "missing": "no wind given for this hour",
    "light": "too light to hold a direction",
    "swirls": "you marked that this seat swirls in this wind",
    "bottom": "a bottom pools air in light or settled air",
    "turning": "the slope air is turning",
    "cancelled": "slope air and wind cancel",
    "lee": "steep ground stands upwind, and the wind may roll back here",
}
KEPT_OUT_SAID = {
    a.OUT_OF_SEASON: "Outside every season of this property.",
    a.NO_MINUTES: "Closed hours leave no minute of this sit.",
    a.IS_CLOSED: "You marked this stand closed.",
    a.NOT_NOW: "You marked this stand not-now.",
    a.IS_TAKEN: "{hunter} sits here.",
    a.GUST: "Wind or gusts over this seat's limit of {limit:.0f} mph.",
    a.STRONG: "Wind of 31 mph or more: not from a raised seat.",
    a.STORM: "Wind or gusts of 64 mph or more: trees come down. Not from any seat.",
    a.NO_WAY: "No way in drawn.",
}
FACTS_SAID = {
    Fact.LOW_SHARE: "The air is good for less than half of this sit.",
    Fact.NOTHING_REACHED: "Your air reaches no bed or food that counts.",
    Fact.NO_WAY_OUT: "No way out drawn.",
    Fact.ENDS_EARLY: "This all-day sit ends at that time, before last light.",
    Fact.SETTLES_LATE: "You settle in right after a wrong hour.",
    Fact.NO_CLOUD: "No cloud given: counted as half by day and clear at night; try overcast.",
    Fact.NO_LOG: "No log yet: every stand counts as rested.",
}
STILL = (IS_CALM, IS_VARIABLE, IS_LIGHT)  # causes in which the slope moves the air, if anything
WAYS_SAID = {IN: "The way in", OUT: "The way out"}


def reason_texts(sit: Sit, why: Iterable[Reason]) -> list[str]:
    """Reasons as sentences, each once. Args: the sit; its reasons."""
    return list(dict.fromkeys(reason_text(sit, one) for one in why))


def first_reason(sit: Sit, seat: StandSit) -> str:
    """The most telling reason as a sentence. Args: the sit; the stand in it."""
    return reason_text(sit, reasons(sit, seat)[0])


def below_group(sit: Sit, group: int, reason: Reason) -> str:
    """A reason as a sentence where the stand's group is told already: "can't call" is said once.

    Args: the sit; the group told; the reason.
    """
    if group == CANT and isinstance(reason, CantCall):
        return _cant_call_text(sit, reason, said=True)
    return reason_text(sit, reason)


def reason_text(sit: Sit, reason: Reason) -> str:
    """A reason as one sentence. Args: the sit; the reason."""
    if isinstance(reason, Fact):
        return FACTS_SAID[reason]
    return _SAYS[type(reason)](sit, reason)


def _name(sit: Sit, at: AirAt | AirOnTrail | CantCall | Walk) -> str:
    return sit.scene.ground.name_of(at.place)


def reaches_text(sit: Sit, reason: AirReaches, verdict: str = "") -> str:
    """What the air of an hour reaches. Args: the sit; the reason; words for its verdict."""
    first, worse = reason.first, reason.worse
    if first.is_trail and not math.isnan(first.like_yd):
        how = "straight onto" if first.on_it else "just past"
        short = " (a short time, not counted)" if reason.is_short else ""
        free = f", but free from the {first.free_end} end" if first.free_end else ""
        if first.free_trail:
            free = f", but {sit.scene.ground.name_of(first.free_trail)} is free"
        return (
            f"From {at_time(sit, first.start_s)} {how} {_name(sit, first)}, where they come: "
            f"like {like_text(first.like_yd)}{free}{verdict}{short}."
        )
    later = ""
    if worse is not None:
        whose = "" if worse.place == first.place else f"{_name(sit, worse)}, "
        later = f", at {at_time(sit, worse.start_s)} {whose}like {like_text(worse.like_yd)}"
    short = " (a short hour, not counted)" if reason.is_short else ""
    like = f"like {like_text(first.like_yd)}"
    if math.isnan(first.like_yd):
        like = "whichever way it goes"
    return (
        f"From {at_time(sit, first.start_s)} your air reaches {_name(sit, first)}, "
        f"{like}{later}{verdict}{short}."
    )


def reason_line(sit: Sit, seat: StandSit) -> str:
    """Why a stand stands where it does in one line, beside its group; its verdict said once.

    Args: the sit; the stand in it.
    """
    why, word = reasons(sit, seat)[0], VERDICTS_SAID[seat.verdict].capitalize()
    if isinstance(why, AirReaches) and why.verdict == seat.verdict:
        return f"{word}. {reaches_text(sit, why)}"
    # a stand may be out for what is no matter of the wind, such as a gust or no way in
    said = below_group(sit, seat.group, why)
    return f"{word}. {said}" if seat.group == GO else said


def _cant_call_text(sit: Sit, reason: CantCall, *, said: bool = False) -> str:
    causes = " or ".join(CAUSES_SAID[CAUSE_WORDS[cause]] for cause in reason.causes)
    may = f", and your air may reach {_name(sit, reason)}" if reason.place else ""
    start, end = at_time(sit, reason.start_s), at_time(sit, reason.end_s)
    if reason.causes == (IS_TURNING,):
        joint = "" if said else ": can't call"
        return f"From {start} your air swings over {_name(sit, reason)}{joint} until {end}."
    when = f"from {start}"
    if reason.minutes < reason.of_minutes:
        one_run = reason.end_s - reason.start_s <= (reason.minutes + 1) * SECONDS_PER_MINUTE
        some = f", {reason.minutes} of {reason.of_minutes} minutes"
        when = f"from {start} to {end}" + ("" if one_run else some)
    head = f"F{when[1:]}" if said else f"Can't call {when}"
    return f"{head}: {causes}{may}."


def _any_way_text(_: Sit, reason: AnyWay) -> str:
    causes = " or ".join(CAUSES_SAID[CAUSE_WORDS[cause]] for cause in reason.causes)
    reaches = "reaches nothing that counts" if reason.verdict == CLEAN else "is just-off at worst"
    return f"{causes[:1].upper()}{causes[1:]}: your air may go any way, and {reaches}."


def _on_trail_text(sit: Sit, on: AirOnTrail) -> str:
    """Air on a trail or just past it; where its ends differ, from which it is clear."""
    name, like = _name(sit, on), f"like {like_text(on.like_yd)}"
    if math.isnan(on.like_yd):
        like = "whichever way it goes" if on.on_it else "at times"
    if on.end:
        how = "On" if on.on_it else "Just past"
        free = f"; free from the {on.free_end} end" if on.free_end else ""
        return f"{how} {name} from the {on.end} end, {like}{free}."
    if on.on_it:
        return f"Straight onto {name}, where they come: {like}."
    return f"Just past {name}: {like}."


def still_text(sit: Sit, seat: StandSit, why: Sequence[Reason]) -> str:
    """Where still air goes here; empty where it is not still air that can't be called.

    Args: the sit; the stand in it; its reasons.
    """
    told = [reason_text(sit, one) for one in why if isinstance(one, StillAirGoes | OverLand)]
    if told:
        return " ".join(told)
    still = {cause for one in why if isinstance(one, CantCall) for cause in one.causes}
    if still & set(STILL) and seat.stand.downhill_deg is None:
        return "This stand has no slope set, so nobody can say where such light air goes."
    return ""


def watch_text(sit: Sit, seat: StandSit) -> str:
    """What a seat without a trail or food in range is for; empty where one is in range."""
    if not nothing_in_range(sit, seat):
        return ""
    return reason_text(sit, NothingInRange(seat.range_yd))


def walk_text(sit: Sit, walk: Walk, head: str = "") -> str:
    """One sentence on a walk's air. Args: the sit; the walk; what it is called."""
    if walk.way == OUT and walk.verdict == WRONG and walk.place and not head:
        return (
            f"Your way out, {walk.lane}, reaches {_name(sit, walk)}, "
            f"like {like_text(walk.like_yd)}. Be picked up."
        )
    joint = ":" if walk.verdict == CANT_CALL else ", is"
    return f"{head or WAYS_SAID[walk.way]}, {walk.lane}{joint} {walk_air_text(sit, walk)}."


def walk_air_text(sit: Sit, walk: Walk) -> str:
    """A walk's air in a few words. Args: the sit; the walk."""
    if walk.verdict == CANT_CALL:
        return "can't call, too little wind on the walk"
    if walk.crossed:
        names = in_a_row(sit.scene.ground.name_of(x) for x in walk.crossed)
        return f"{VERDICTS_SAID[walk.verdict]}: it crosses {names} before the shot"
    like = f"{_name(sit, walk)} like {like_text(walk.like_yd)}"
    return f"{VERDICTS_SAID[walk.verdict]}{f': {like}' if walk.place else ''}"


def _crosses_text(sit: Sit, reason: WayCrosses) -> str:
    names = ", ".join(sit.scene.ground.name_of(x) for x in reason.places)
    return f"The way in crosses {names}{' before the shot' if reason.before_shot else ''}."


def _rested_text(rest: RestedSince) -> str:
    """Since when a stand has rested; what happened near it weighs on it too."""
    if rest.days is None:
        near = "; a stand that shares its bed, food or way was" if rest.weighs else ""
        return f"Not sat in the log{near}."
    if not rest.weighs:
        return f"Rested {rest.days} day{'s' if rest.days != 1 else ''}."
    return f"Sat {days_ago(rest.days)}."


def rested_text(sit: Sit, seat: StandSit) -> str:
    """How rested a stand is in a sentence; empty without a log. Args: the sit; the stand."""
    rest = rest_of(sit, seat)
    return "" if rest is Fact.NO_LOG else reason_text(sit, rest)


# what says each kind of reason, of a sit and the reason
_SAYS: dict[type, Callable[[Sit, Any], str]] = {
    KeptOut: lambda _, out: KEPT_OUT_SAID[out.cause].format(hunter=out.hunter, limit=out.limit_mph),
    AirReaches: lambda sit, air: reaches_text(sit, air, f" ({VERDICTS_SAID[air.verdict]})"),
    CantCall: _cant_call_text,
    AnyWay: _any_way_text,
    StillAirGoes: still_air_text,
    OverLand: over_land_text,
    SlopeTurn: turn_text,
    SmallTurn: lambda sit, turn: (
        f"The slope's own air turns at {at_time(sit, turn.at_s)}, and hardly swings yours."
    ),
    NothingInRange: lambda _, seat: (
        f"No trail or food within {seat.range_yd:.0f} yd: a seat to watch from."
    ),
    AirOnTrail: _on_trail_text,
    Walk: walk_text,
    WayCrosses: _crosses_text,
    BeDown: lambda sit, down: f"Be down by {at_time(sit, down.at_s)}.",
    NotBefore: lambda sit, seated: f"Not before {at_time(sit, seated.at_s)}.",
    ShortHour: lambda sit, hour: (
        f"The air of {minutes_text(hour.minutes)} from {at_time(sit, hour.start_s)} "
        "decides nothing."
    ),
    AsFelt: lambda _, felt: felt_text(felt),
    RestedSince: lambda _, rest: _rested_text(rest),
    NotJudged: lambda sit, piece: (
        f"Not judged, parted off by closed hours: {at_time(sit, piece.start_s)} to "
        f"{at_time(sit, piece.end_s)}."
    ),
}
