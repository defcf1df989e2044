"""The answer as plain data for `--json`: rounded, ISO times, unknown as null."""

import datetime
import math
from zoneinfo import ZoneInfo

from core.answer.chances import Chances
from core.answer.change import ranges_deg, spare_deg, works_by_degree
from core.answer.one_sit import SitAnswer, StandSit, place_ids
from core.answer.reached import worst_case
from core.ground.place import Place, relation
from core.judge.causes import IS_TURNING, SURE
from core.judge.stand import WAY_OUT
from core.say.chance.plain import chance_dict, next_chance
from core.say.reason_texts import reason_texts
from core.say.reasons import reasons
from core.sit.dates import orange_for
from core.sit.minutes import PIECE_WORDS
from core.sit.prepare import Sit
from core.sit.verdicts import CANT_CALL, GROUP_WORDS, JUST_OFF, STAY, VERDICT_WORDS, WRONG
from core.sit.ways import shown_yd
from core.sky.daylight import Day
from core.sky.moon import moon_illuminated_frac
from core.units import M_PER_YD, MPS_PER_MPH
from core.weather.hours import STATE_WORDS, Hours


def iso(time_s: float | None, timezone: str) -> str | None:
    """An instant in a time zone, to the second, with its offset; None for none."""
    if time_s is None or math.isnan(time_s):
        return None
    at = datetime.datetime.fromtimestamp(round(time_s), tz=ZoneInfo(timezone))
    return at.isoformat(timespec="seconds")


def rounded_deg(direction_deg: float) -> float | None:
    """A direction in [0, 360) to a tenth; None for none."""
    if math.isnan(direction_deg):
        return None
    return round(direction_deg, 1) % 360.0


def rounded(value: float, digits: int) -> float | None:
    """A number to some digits; None for NaN."""
    return None if math.isnan(value) else round(float(value), digits)


def sit_dict(answer: SitAnswer, next_good: dict | None = None) -> dict:
    """The whole answer of `sits --json`."""
    sit = answer.sit
    clock, timezone, legal = sit.clock, sit.timezone, None
    if not clock.outside and clock.season is not None:
        legal = {
            "start": iso(clock.legal_start_s, timezone),
            "end": iso(clock.legal_end_s, timezone),
            "confirmed": clock.season.checked_on is not None,
        }
    return {
        "property": sit.scene.ground.name,
        "date": clock.date.isoformat(),
        "sit": clock.sit,
        "window": {"start": iso(clock.start_s, timezone), "end": iso(clock.end_s, timezone)},
        "legal_light": legal,
        "wind": wind_dict(sit.weather),
        "weapon": clock.season.weapon if legal and clock.season else None,
        "orange": bool(orange_for(sit.scene.ground, clock.date)),
        "stands": [stand_dict(sit, s, answer.chances) for s in answer.stands],
        "next_good_sit": next_good,
        **next_chance(answer),  # of the first choice
    }


def stand_dict(sit: Sit, seat: StandSit, chances: Chances | None = None) -> dict:
    """One stand of `sits --json`. Args: its sit; the stand; the sit's chances."""
    timezone = sit.timezone
    works = works_by_degree(sit, seat)
    left, right = spare_deg(works, sit.mean_wind_deg)
    return {
        "id": seat.stand.id,
        "name": seat.stand.name,
        "rank": seat.rank,
        "group": GROUP_WORDS[seat.group],
        "verdict": VERDICT_WORDS[seat.verdict],
        "air_share": round(seat.air_share, 3),
        "wanted": seat.wanted,
        "rest_share": round(seat.rest, 3),
        "leave_by": iso(seat.leave_by_s, timezone),
        "not_before": iso(seat.not_before_s, timezone),
        "way_in": way_in_dict(seat, timezone),
        "way_out": way_out_dict(seat),
        "hours": hour_rows(sit, seat),
        "zones": place_rows(sit, seat),
        "corridors_in_range": sorted(seat.corridors),
        "works_from_deg": [list(r) for r in ranges_deg(works)],
        "to_spare_deg": {
            "left": None if left is None else round(left, 1),
            "right": None if right is None else round(right, 1),
        },
        "reasons": reason_texts(sit, reasons(sit, seat)),
        **chance_dict(chances, seat),
        **_felt_dict(seat),
    }


def _felt_dict(seat: StandSit) -> dict:
    """The turns that a stand's owner took up; nothing without any."""
    if not seat.stand.turns:
        return {}
    turns = [
        {"from_deg": [list(r) for r in turn.from_deg], "turn_deg": turn.turn_deg}
        for turn in seat.stand.turns
    ]
    return {"turns": turns}


def way_in_dict(seat: StandSit, timezone: str) -> dict:
    """The chosen way in; lane null and can't call where none is drawn."""
    air = seat.way_in
    if air is None:
        return {
            "lane": None,
            "verdict": VERDICT_WORDS[CANT_CALL],
            "leave_truck": None,
            "seated_by": iso(seat.seated_s, timezone),
            "minutes": None,
            "crosses": [],
            "closest_bedding_yd": None,
            "equivalent_yd": None,
        }
    way = air.way
    closest = way.closest_bed_m / M_PER_YD
    return {
        "lane": way.lane.id,
        "verdict": VERDICT_WORDS[int(air.verdict[0])],
        "leave_truck": iso(seat.leave_truck_s, timezone),
        "seated_by": iso(seat.seated_s, timezone),
        "minutes": way.minutes,
        "crosses": sorted(way.crosses),
        "closest_bedding_yd": None if math.isnan(closest) else int(closest + 0.5),
        "equivalent_yd": shown_yd(float(air.equivalent_yd[0])),
    }


def way_out_dict(seat: StandSit) -> dict:
    """The chosen way out; `cap` is what it makes of the sit at best, null for nothing."""
    air = seat.way_out
    if air is None:
        return {
            "lane": None,
            "verdict": VERDICT_WORDS[CANT_CALL],
            "minutes": None,
            "equivalent_yd": None,
            "cap": None,
        }
    cap = None
    if air.verdict[0] == WRONG:
        cap = GROUP_WORDS[STAY] if WAY_OUT in seat.causes else VERDICT_WORDS[JUST_OFF]
    return {
        "lane": air.way.lane.id,
        "verdict": VERDICT_WORDS[int(air.verdict[0])],
        "minutes": air.way.minutes,
        "equivalent_yd": shown_yd(float(air.equivalent_yd[0])),
        "cap": cap,
    }


def hour_rows(sit: Sit, seat: StandSit) -> list[dict]:
    """The rows of the window at one stand."""
    timezone, weather, air = sit.timezone, sit.rows.weather, seat.hours.air
    rows = []
    for i, row in enumerate(air.row):
        speed = float(weather.speed_mps[row]) / MPS_PER_MPH
        one_way = bool(sit.rows.directed[row]) and seat.hours.cause[i] in (SURE, IS_TURNING)
        rows.append(
            {
                "start": iso(int(seat.rows.begins_s[i]), timezone),
                "minutes": int(seat.rows.minutes[i]),
                "piece": PIECE_WORDS[int(seat.hours.kind[i])],
                "state": STATE_WORDS[int(weather.state[row])],
                "wind_from_deg": rounded_deg(float(weather.wind_from_deg[row])),
                "air_to_deg": rounded_deg(float(air.air_to_deg[i])) if one_way else None,
                "wind_speed_mph": rounded(speed, 1),
                "verdict": VERDICT_WORDS[int(seat.hours.verdict[i])],
            }
        )
    return rows


def place_rows(sit: Sit, seat: StandSit) -> list[dict]:
    """Every bed, food, trail and lane as it lies, each at its worst hour.

    A trail in range has a row for each end that deer come from, and says whether the air
    is on it.
    """
    n_areas = len(sit.scene.areas)
    at: dict[str, list[tuple[int, int]]] = {}
    for i, name in enumerate(place_ids(sit, seat)):
        case = worst_case(seat, i)
        if case is not None:
            at.setdefault(name, []).append((i, case))
    rows = []
    for name, place in sorted(sit.scene.places(seat.stand).items()):
        for i, case in at.get(name, [(-1, -1)]):
            entry = _place_row(sit, seat, place, i, case)
            if place.kind == "corridor":
                end = seat.hours.approaches[i - n_areas].end if i >= 0 else None
                entry["approach"], entry["on_it"] = end, _on_it(entry["verdict"])
            rows.append(entry)
    return rows


def _on_it(verdict: str | None) -> bool | None:
    """Whether air is on a trail, by its verdict; None where nobody can tell."""
    if verdict is None or verdict == VERDICT_WORDS[CANT_CALL]:
        return None
    return verdict == VERDICT_WORDS[WRONG]


def _place_row(sit: Sit, seat: StandSit, place: Place, i: int, case: int) -> dict:
    """How a place lies, and what reaches it in one row; -1 where it counts in none."""
    known = case >= 0
    row = int(seat.hours.air.row[case]) if known else -1
    wind = float(sit.rows.weather.wind_from_deg[row]) if known else sit.mean_wind_deg
    hours = seat.hours
    return {
        "id": place.id,
        "kind": place.kind,
        "bearing_deg": rounded_deg(place.bearing_deg),
        "distance_yd": int(place.distance_m / M_PER_YD + 0.5),
        "relation": relation(wind, place),
        "equivalent_yd": shown_yd(float(hours.equivalent_yd[case, i])) if known else None,
        "verdict": VERDICT_WORDS[int(hours.place_verdict[case, i])] if known else None,
        "hour": iso(int(seat.rows.begins_s[case]), sit.timezone) if known else None,
    }


def daylight_dict(day: Day, legal: tuple[int, int] | None) -> dict:
    """The answer of `daylight --json`. Polar day and night: nulls and a note."""
    timezone = day.timezone
    start, end = legal or (None, None)
    middle_s = day.noon_s
    report = {
        "civil_dawn": iso(day.civil_dawn_s, timezone),
        "legal_start": iso(start, timezone),
        "sunrise": iso(day.sunrise_s, timezone),
        "solar_noon": iso(day.noon_s, timezone),
        "sunset": iso(day.sunset_s, timezone),
        "legal_end": iso(end, timezone),
        "civil_dusk": iso(day.civil_dusk_s, timezone),
        "moon_illuminated_frac": rounded(moon_illuminated_frac(middle_s), 3),
    }
    if math.isnan(day.sunrise_s) or math.isnan(day.sunset_s):
        report["note"] = "The sun does not rise and set here on this date."
    elif legal is None:
        report["note"] = "No season of this property covers this date."
    return report


def wind_dict(weather: Hours) -> dict:
    """Which wind an answer rests on, with what a reader noted of it. Args: the hours."""
    return {
        "source": weather.source,
        "updated": iso(weather.updated_s, "UTC"),
        "notes": list(weather.notes),
    }


def next_dict(name: str, answers: list[SitAnswer], weather: Hours) -> dict:
    """The answer of `next --json`. Args: the property's name; answers in order; their wind."""
    sits = []
    for answer in answers:
        best = answer.best
        timezone = answer.sit.timezone
        sits.append(
            {
                "date": answer.sit.clock.date.isoformat(),
                "sit": answer.sit.clock.sit,
                "stand": best.stand.id if best else None,
                "group": GROUP_WORDS[best.group] if best else None,
                "verdict": VERDICT_WORDS[best.verdict] if best else None,
                "leave_truck": iso(best.leave_truck_s, timezone) if best else None,
                "reasons": reason_texts(answer.sit, reasons(answer.sit, best)) if best else [],
                **next_chance(answer),
            }
        )
    return {"property": name, "wind": wind_dict(weather), "sits": sits}
