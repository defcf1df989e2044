"""Turn the wind: one plain sentence for each stand, for someone who is new to it."""

import math
from dataclasses import dataclass

import numpy as np

from core.angles import opposite_deg, point_deg, point_name
from core.answer.one_sit import SitAnswer, StandSit, place_ids
from core.answer.reached import ReachedPlace, reached_places, telling_case
from core.answer.shots import trails_beside_air, trails_in_wrong_air
from core.ground.place import Place, relation
from core.judge.causes import CAUSE_WORDS, IS_TURNING, SURE
from core.judge.stand import AIR_SHARE, PRIME_HOUR, WAY_IN
from core.say.reason_texts import CAUSES_SAID, first_reason
from core.say.words import at_time, like_text
from core.sit.prepare import Sit
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY
from core.sit.ways import MOST_SHOWN_YD, WayAir
from core.units import M_PER_YD
from core.weather.entry import BEAUFORT, parse_wind
from core.weather.hours import Hours

# the sixteen points, typed out; a wind is named for where it comes from
POINT_WORDS = {
    "N": "north",
    "NNE": "north-north-east",
    "NE": "north-east",
    "ENE": "east-north-east",
    "E": "east",
    "ESE": "east-south-east",
    "SE": "south-east",
    "SSE": "south-south-east",
    "S": "south",
    "SSW": "south-south-west",
    "SW": "south-west",
    "WSW": "west-south-west",
    "W": "west",
    "WNW": "west-north-west",
    "NW": "north-west",
    "NNW": "north-north-west",
}
# three speeds in steps that can be felt, as Beaufort forces
STRENGTHS = {"light": 2, "steady": 3, "strong": 4}
CLEAR_OF = "clear of every bed and food that counts"


@dataclass(frozen=True, eq=False)
class Turned:
    """One stand under a turned wind: its sentence, and what its air reaches."""

    seat: StandSit
    sentence: str
    reached: tuple[ReachedPlace, ...]


def direction_words(direction_deg: float) -> str:
    """A direction as the nearest of sixteen points, in words."""
    return POINT_WORDS[point_name(direction_deg)]


def a_wind(direction_deg: float) -> str:
    """The wind with its article: a north-west wind, an east wind."""
    words = direction_words(direction_deg)
    return f"{'an' if words[0] == 'e' else 'a'} {words} wind"


def capital(words: str) -> str:
    """Words with a capital at the front, the rest as it is."""
    return words[:1].upper() + words[1:]


def turned_wind(point: str, strength: str) -> Hours:
    """A wind of the controls, held for every hour.

    Args: one of the sixteen points; light, steady or strong.
    Raises: KeyError for another word.
    """
    point_deg(point)
    return parse_wind(f"{point} B{STRENGTHS[strength]}")


def strength_words(strength: str) -> str:
    """What a strength is on the ground: speeds and the sign that shows it.

    Args: light, steady or strong. Source: [nws-beaufort].
    """
    force = BEAUFORT[STRENGTHS[strength]]
    return f"{force.low_mph:g} to {force.high_mph:g} mph, {force.sign}"


def yards(distance_m: float) -> str:
    """A true distance in whole yards, in words."""
    count = int(distance_m / M_PER_YD + 0.5)
    return f"{count:,} yard{'' if count == 1 else 's'}"


def like_yards(distance_yd: float) -> str:
    """How far a strength is like, in words."""
    return like_text(distance_yd, "yards")


def turned(answer: SitAnswer) -> list[Turned]:
    """Every stand of an answer with its sentence, in the answer's order."""
    return [
        Turned(seat, turn_sentence(answer.sit, seat), tuple(_reached(answer.sit, seat)))
        for seat in answer.stands
    ]


def _reached(sit: Sit, seat: StandSit) -> list[ReachedPlace]:
    case = telling_case(seat)
    return [] if case is None else reached_places(sit, seat, case)


def turn_sentence(sit: Sit, seat: StandSit) -> str:
    """Why a stand stands where it does in this wind, in one plain sentence or two."""
    air = {PRIME_HOUR, AIR_SHARE}
    if seat.group == STAY and not set(seat.causes) & (air | {WAY_IN}):
        return _named(seat, first_reason(sit, seat))
    case = telling_case(seat)
    if case is None:
        return _named(seat, first_reason(sit, seat))
    if seat.group == STAY and not set(seat.causes) & air and seat.way_in is not None:
        return _way_sentence(sit, seat, seat.way_in)
    if seat.group == CANT:
        return _unsure_sentence(sit, seat)
    told, trails = _air_sentence(sit, seat, case), trails_in_wrong_air(sit, seat)
    at = told_place(seat, case)
    is_clear = at is not None and seat.hours.place_verdict[case, at] == CLEAN
    if trails:
        but = "But it" if is_clear else "It also"
        return f"{told} {but} lies on {_names(sit, trails)} before the shot."
    is_cause = seat.verdict == JUST_OFF and (is_clear or at is None)
    beside = trails_beside_air(sit, seat) if is_cause else []
    return f"{told} But it passes just beside {_names(sit, beside)}." if beside else told


def _names(sit: Sit, ids: list[str]) -> str:
    return " and ".join(sit.scene.ground.name_of(id_) for id_ in ids)


def _named(seat: StandSit, reason: str) -> str:
    return f"{seat.stand.name}: {reason}"


def _air_sentence(sit: Sit, seat: StandSit, case: int) -> str:
    head = _head(seat, case)
    told = told_place(seat, case)
    if seat.hours.cause[case] not in (SURE, IS_TURNING):
        return _any_way_sentence(sit, seat, case)
    if told is None:
        return f"{head}. No bed or food that counts lies in it."
    name = place_ids(sit, seat)[told]
    place = sit.scene.places(seat.stand)[name]
    label, like = sit.scene.ground.name_of(name), float(seat.hours.equivalent_yd[case, told])
    away = "" if place.inside else f" {yards(place.distance_m)} away"
    if seat.hours.place_verdict[case, told] == CLEAN:
        if like > MOST_SHOWN_YD:
            return f"{head}, {CLEAR_OF}."
        most = f"{label}{away}: like {like_yards(like)} straight downwind"
        return f"{head}, {CLEAR_OF}; what little reaches one goes to {most}."
    wind = float(seat.hours.air.wind_from_deg[case])
    reach = (
        f"{head}, {_over(wind, place)} {label}{away}: like {like_yards(like)} straight downwind."
    )
    return reach + _outside_clause(sit, seat, case)


def _any_way_sentence(sit: Sit, seat: StandSit, case: int) -> str:
    """Air that may go any way, where that makes no difference, or all of it is wrong."""
    cause = CAUSES_SAID[CAUSE_WORDS[int(seat.hours.cause[case])]]
    reaches = {
        CLEAN: "it reaches no bed, food or trail that counts",
        JUST_OFF: "it is just-off at worst",
    }.get(int(seat.hours.verdict[case]), "it is wrong")
    at = at_time(sit, int(seat.rows.start_s[case]))
    return f"From {seat.stand.name} at {at}: {cause}. Whichever way your air goes, {reaches}."


def _outside_clause(sit: Sit, seat: StandSit, case: int) -> str:
    """A clean sit may have an hour that is not clean, outside the hours that decide."""
    if seat.group != GO or seat.verdict != CLEAN or seat.hours.verdict[case] == CLEAN:
        return ""
    at = at_time(sit, int(seat.rows.start_s[case]))
    return f" But that is at {at}, outside the first and last light that decide."


def _head(seat: StandSit, case: int) -> str:
    wind = float(seat.hours.air.wind_from_deg[case])
    to = float(seat.hours.air.air_to_deg[case])
    name = seat.stand.name
    if math.isnan(wind):
        return f"From {name} in still air no one can say where your air goes"
    slid = "" if point_name(to) == point_name(float(opposite_deg(wind))) else " with the slope"
    return f"From {name} on {a_wind(wind)} your air goes {direction_words(to)}{slid}"


def _over(wind_from_deg: float, place: Place) -> str:
    """How the air meets a place, by where the place lies in this wind."""
    if place.inside:
        return "and you sit in"
    return {
        "downwind": "over",
        "crosswind": "and its edge reaches",
        "upwind": "and a little drifts back to",
    }.get(relation(wind_from_deg, place) or "", "over")


def told_place(seat: StandSit, case: int) -> int | None:
    """The bed or food that says most in an hour: worst verdict, then strongest air.

    Args: the stand in its sit; the hour. Returns: the place's number; None without
    a place that counts.
    """
    hours = seat.hours
    n_areas = hours.counts.shape[1] - len(hours.approaches)
    places = np.flatnonzero(hours.counts[case, :n_areas])
    if not len(places):
        return None
    like = np.nan_to_num(hours.equivalent_yd[case, places], nan=math.inf)
    return int(places[np.lexsort((places, like, -hours.place_verdict[case, places]))[0]])


def _way_sentence(sit: Sit, seat: StandSit, air: WayAir) -> str:
    """The seat would do, but the walk would not."""
    name, lane = seat.stand.name, air.way.lane.name or air.way.lane.id
    like, area = float(air.equivalent_yd[0]), int(air.worst_area[0])
    over = ""
    if area >= 0 and like <= MOST_SHOWN_YD:
        over = (
            f" over {sit.scene.ground.name_of(sit.scene.areas[area].id)}: like {like_yards(like)}"
        )
    though = (
        f"{name} itself would do, but"
        if seat.judged.air_group[0] == GO
        else (f"No one can call the air at {name}, and")
    )
    return f"{though} the way in by {lane} lays your air{over}."


def _unsure_sentence(sit: Sit, seat: StandSit) -> str:
    """Why a stand can't be called, and where still air would likely go."""
    cases = np.flatnonzero((seat.hours.verdict == CANT_CALL) & seat.rows.deciding)
    if not len(cases) or seat.judged.air_group[0] != CANT:
        return _named(seat, first_reason(sit, seat))
    case = int(cases[0])
    cause = CAUSES_SAID[CAUSE_WORDS[int(seat.hours.cause[case])]]
    at = at_time(sit, int(seat.rows.start_s[case]))
    wind = float(seat.hours.air.wind_from_deg[case])
    on = "" if math.isnan(wind) else f" on {a_wind(wind)}"
    return f"From {seat.stand.name}{on} no one can call your air at {at}: {cause}."


def reached_by(turned_stands: list[Turned]) -> dict[str, list[str]]:
    """For each place that some stand's air reaches: names of those stands.

    Args: from `turned`. Returns: names of stands by id of the place, in order.
    """
    places: dict[str, list[str]] = {}
    for one in turned_stands:
        for place in one.reached:
            places.setdefault(place.id, []).append(one.seat.stand.name)
    return places
