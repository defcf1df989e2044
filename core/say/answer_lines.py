"""The answer as the few lines that a hunter reads at half past four."""

import math
from collections.abc import Iterable

import numpy as np

from core.air.chill import wind_chill_f
from core.angles import point_name
from core.answer.chances import Chances
from core.answer.change import spare_deg, works_by_degree
from core.answer.one_sit import SitAnswer, StandSit, place_ids
from core.answer.reached import air_from_deg, as_reached, worst_case
from core.ground.place import relation
from core.judge.causes import IS_TURNING, SURE
from core.say.above import above_text
from core.say.cautions import warnings
from core.say.chance.words import (
    TOSS_UP,
    chance_text,
    is_toss_up,
    law_text,
    plan_text,
    short_text,
)
from core.say.headline import late_text, shortened_text, way_out_text
from core.say.hunters.closed import closed_text
from core.say.hunters.orange import orange_text
from core.say.log.felt import felt_here
from core.say.pieces.told import clock_lines, until_line
from core.say.reason_kinds import AirReaches, BeDown, CantCall, NotBefore, Reason
from core.say.reason_texts import (
    below_group,
    reason_text,
    rested_text,
    still_text,
    walk_text,
)
from core.say.reasons import reasons, walk_of
from core.say.what_would_change import slope_text, winds_text
from core.say.words import (
    GROUPS_SAID,
    VERDICTS_SAID,
    at_time,
    like_text,
    noted,
    place_text,
    wind_line,
)
from core.sit.prepare import Sit
from core.sit.scene import IN, OUT
from core.sit.verdicts import CANT, CANT_CALL, GO, STAY
from core.units import SECONDS_PER_MINUTE, f_from_c

CAUTION = (
    "Full-body harness from the ground up; know your target and beyond; tell someone where you sit "
    "and when you are back. Local rules come first."
)


def sit_lines(answer: SitAnswer, next_good: dict | None, now_s: float | None) -> list[str]:
    """The whole answer in text.

    Args: the answer; the next good sit, if known; the clock, for the age [epoch s].
    """
    sit = answer.sit
    if answer.best is None:
        return [f"{sit.scene.ground.name}: no stands yet. Add one to the property file."]
    lines = _first_lines(answer, answer.best, next_good, now_s)
    if len(answer.stands) > 1:
        lines += ["", *filter(None, [above_text(answer)])]
        lines += [other_line(sit, s, answer.chances) for s in answer.stands[1:]]
    if clock := clock_lines(sit, answer.best):
        lines += ["", f"{answer.best.stand.name} by the clock:", *clock, until_line(answer)]
    return lines


def headline(seat: StandSit, chances: Chances | None = None) -> str:
    """Group and stand in one line. Args: the stand; the chances of its sit."""
    if seat.seated_s is None:
        return "STAY OUT."
    if seat.group == STAY:
        return f"STAY OUT. Least bad: {seat.stand.name}."
    if seat.group == CANT:
        return f"CAN'T CALL. First: {seat.stand.name}."
    if is_toss_up(chances, seat):
        return f"{TOSS_UP}: {seat.stand.name} ({VERDICTS_SAID[seat.verdict]})."
    return f"GO: {seat.stand.name} ({VERDICTS_SAID[seat.verdict]})."


def other_line(sit: Sit, seat: StandSit, chances: Chances | None = None) -> str:
    """One of the others, with its reason. Args: the sit; the stand; the sit's chances."""
    first = below_group(sit, seat.group, reasons(sit, seat)[0])
    why = " ".join(filter(None, [first, felt_here(sit, seat), rested_text(sit, seat)]))
    if seat.group == CANT and (still := still_text(sit, seat, reasons(sit, seat))):
        why = f"{why} {still}"
    likely = short_text(chances, seat)
    group = f"{GROUPS_SAID[seat.group].lower()}{f', {likely}' if likely else ''}"
    return f"{group}: {seat.stand.name}: {why}"


def chance_lines(answer: SitAnswer) -> list[str]:
    """How likely the first choice holds, plan B, and what that rests on; none unasked.

    Args: the answer.
    """
    if answer.best is None:
        return []
    told = [chance_text(answer, answer.best), plan_text(answer)]
    return [line for line in [*told, law_text(answer.chances) if told[0] else ""] if line]


def _first_lines(answer: SitAnswer, seat: StandSit, next_good, now_s) -> list[str]:
    sit = answer.sit
    why = reasons(sit, seat)
    first = f"{shortened_text(sit, seat)} {way_out_text(sit, seat)}".strip()
    if seat.group != GO:
        first = below_group(sit, seat.group, why[0])
    lines = [
        f"{headline(seat, answer.chances)} {first}".strip(),
        f"{times_line(sit, seat)} {late_text(sit, seat, now_s)}".strip(),
        orange_text(sit),
        closed_text(sit),
        f"Wind {wind_line(sit, now_s)} {felt_here(sit, seat)}".rstrip(),
        " ".join(noted(sit.weather.notes)),
        *warnings(sit, seat),
    ]
    if seat.seated_s is not None:
        lines.insert(2, way_in_line(sit, seat))
        lines += [
            air_line(sit, seat),
            slope_text(sit, seat),
            wrong_line(sit, seat, why),
            _way_out_line(sit, seat),
        ]
        lines[1:1] = chance_lines(answer)
        lines += [cold_line(sit), rested_text(sit, seat), CAUTION]
    if seat.group == STAY and next_good:
        lines.insert(
            1,
            f"Next good sit: {next_good['date']} {next_good['sit']}, "
            f"{sit.scene.ground.name_of(next_good['stand'])}.",
        )
    return [line for line in lines if line]


def times_line(sit: Sit, seat: StandSit) -> str:
    """When to leave, when seated, and legal light."""
    clock, leave = sit.clock, ""
    if seat.leave_truck_s is not None:
        at = seat.leave_truck_s - sit.scene.ground.sit.gear_up_min * SECONDS_PER_MINUTE
        leave = f"Truck {at_time(sit, at)}, leave it {at_time(sit, seat.leave_truck_s)}. "
    if clock.outside or clock.season is None:
        return f"{leave}Outside every season: no legal light."
    note = "" if clock.season.checked_on else " (not confirmed: check your state's rule)"
    seated = "" if seat.seated_s is None else f"Seated {at_time(sit, seat.seated_s)}. "
    return (
        f"{leave}{seated}Legal light "
        f"{at_time(sit, clock.legal_start_s)} to {at_time(sit, clock.legal_end_s)}{note}."
    )


def way_in_line(sit: Sit, seat: StandSit) -> str:
    """The way in and what it passes."""
    if seat.way_in is None:
        return "Way in: none drawn."
    way = seat.way_in.way
    names = ", ".join(sit.scene.ground.name_of(x) for x in way.crosses) or "no trail"
    bed = "" if math.isnan(way.closest_bed_m) else f" Closest bed {place_text(way.closest_bed_m)}."
    said = walk_text(sit, walk_of(sit, seat.way_in, IN), "Way in").rstrip(".")
    return f"{said}; {place_text(way.length_m)}, {way.minutes} min. Crosses {names}.{bed}"


def air_line(sit: Sit, seat: StandSit) -> str:
    """Where the air goes, and the places that get most of it."""
    points = _points_to(seat)
    if math.isnan(sit.mean_wind_deg) or not points:
        return still_line(sit, seat)
    places = sit.scene.places(seat.stand)
    rows = []
    for i, name in enumerate(place_ids(sit, seat)):
        case = worst_case(seat, i)
        if case is None:
            continue
        like = float(seat.hours.equivalent_yd[case, i])
        if math.isnan(like) or like > 3520:
            continue
        place = places[name]
        lies = as_reached(sit, seat, case, place)
        where = relation(air_from_deg(seat, case), lies) or "you sit in it"
        rows.append(
            (
                like,
                f"{sit.scene.ground.name_of(name)} ({where}, "
                f"{place_text(place.distance_m)}) like {like_text(like)}",
            )
        )
    reached = "; ".join(text for _, text in sorted(rows)[:3]) or "nothing that counts"
    unsure = (seat.hours.verdict == CANT_CALL) & seat.rows.deciding
    head = "Where it can be called, your" if unsure.any() else "Your"
    return f"{head} air goes {points}: {reached}."


def _points_to(seat: StandSit) -> str:
    """The ways that a stand's air goes, the first and the last; empty where it may go any way
    for most of the sit."""
    hours, rows = seat.hours, seat.rows
    one_way = np.isin(hours.cause, (SURE, IS_TURNING))
    if rows.minutes[one_way].sum() * 2 < rows.minutes.sum():
        return ""
    told = np.flatnonzero(one_way & rows.deciding & ~np.isnan(hours.air.air_to_deg))
    ends = [point_name(float(hours.air.air_to_deg[i])) for i in told[[0, -1]]] if len(told) else []
    return ", then ".join(dict.fromkeys(ends))


def still_line(sit: Sit, seat: StandSit) -> str:
    """Where the air goes in a sit in which it has no one direction."""
    return still_text(sit, seat, reasons(sit, seat)) or "Your air has no one direction in this sit."


def wrong_line(sit: Sit, seat: StandSit, why: Iterable[Reason]) -> str:
    """What will go wrong and when, and the degrees to spare.

    Args: the sit; the stand in it; those of its reasons that may be told here.
    """
    if math.isnan(sit.mean_wind_deg):  # no direction: there is none to turn
        return _first_trouble(sit, seat, why) if seat.group == GO else ""
    works = works_by_degree(sit, seat)
    left, right = spare_deg(works, sit.mean_wind_deg)
    spare = "" if left is None or right is None else f" {min(left, right):.0f}° to spare."
    head = f"{_first_trouble(sit, seat, why)} ".lstrip() if seat.group == GO else ""
    if works.all() or not works.any():
        return f"{head}{'Any' if works.all() else 'No'} wind works at this speed."
    return f"{head}Good in: {winds_text(works, sit.mean_wind_deg)}.{spare}"


def _first_trouble(sit: Sit, seat: StandSit, why: Iterable[Reason]) -> str:
    """What goes wrong first in a sit that is go; empty for its way out, told in the headline."""
    for reason in why:
        if isinstance(reason, AirReaches | CantCall | BeDown | NotBefore):
            return reason_text(sit, reason)
    return "" if seat.verdict else "Nothing goes wrong while this wind holds."


def _way_out_line(sit: Sit, seat: StandSit) -> str:
    if seat.way_out is None:
        return "Way out: none drawn."
    return walk_text(sit, walk_of(sit, seat.way_out, OUT), "Way out")


def cold_line(sit: Sit) -> str:
    """The coldest hour of the window, and what the wind makes of it."""
    weather = sit.rows.weather
    warm = weather.temperature_c[sit.window]
    if not len(warm) or np.isnan(warm).all():
        return "Cold: no temperature in this wind."
    i = int(np.nanargmin(warm))
    felt = float(wind_chill_f(warm[i], weather.speed_mps[sit.window][i]))
    tail = "" if math.isnan(felt) else f", wind chill {felt:.0f} °F"
    return f"Cold: {f_from_c(float(warm[i])):.0f} °F at the least{tail}."
