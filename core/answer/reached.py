"""How far the air of one hour reaches on the ground: its way and the places, for a map."""

import dataclasses
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
import shapely.ops

from core.air.drift import offset_rad, plume, reference_strength, strength
from core.air.slopes import LEAST_CARRY_MPS
from core.air.spread import narrowing, thinning_per_m
from core.angles import opposite_deg, separation_deg, wrap_deg
from core.answer.one_sit import StandSit, place_ids
from core.ground.place import Place
from core.ground.plan import bearing_deg
from core.judge.causes import IS_TURNING, SURE
from core.sit.prepare import Sit
from core.sit.stand_air import StandAir
from core.sit.verdicts import CANT_CALL
from core.units import M_PER_YD

Floats = npt.NDArray[np.float64]
NEAREST_M, FARTHEST_M = 10.0, 6000.0
RANGES_M = np.geomspace(NEAREST_M, FARTHEST_M, 400)
LITTLE, SOME, MUCH = range(3)  # how much reaches a place
LITTLE_TIMES = 2.0  # of the distance beyond which air is clean: farther is hardly any


@dataclass(frozen=True, slots=True)
class Strongest:
    """Where a place gets most of the air of an hour, and whether that is its middle.

    The middle is one standard deviation of the air's sideways spread to either side of the
    way it goes: two thirds of the air pass there. Beyond it the air thins by a law that no
    field test here has looked at, and the report may be off to that side as well.
    """

    distance_m: float
    in_the_middle: bool


@dataclass(frozen=True, slots=True)
class ReachedPlace:
    """A place that the air of an hour reaches."""

    id: str
    equivalent_yd: float


def how_much(sit: Sit, like_yd: float) -> int:
    """How much reaches a place, in the property's own two distances.

    Args: the sit; the distance that the place's air is like [yd].
    Returns: MUCH nearer than air is wrong, SOME nearer than it is clean, else LITTLE.
    """
    rules = sit.scene.ground.air
    return (
        MUCH
        if like_yd < rules.wrong_within_yd
        else SOME
        if like_yd <= rules.clean_beyond_yd
        else LITTLE
    )


def way_over_land_m(sit: Sit, own: StandSit, case: int) -> Floats | None:
    """The way of an hour's air over the land, from the stand; None where it is straight.

    Args: the sit; the stand in it; the hour. Returns: points [m], shape (point, 2).
    """
    if sit.scene.heights is None or np.isnan(own.hours.air.air_to_deg[case]):
        return None
    from core.sit.land.bent import way_of_row  # what only heights need is loaded here

    return way_of_row(sit.scene, own.stand, own.hours.air, case)


def air_way_m(
    air: StandAir, case: int, like_yd: float, over_land_m: Floats | None = None
) -> Floats:
    """The way that the air of an hour takes, as far as it is as strong as a distance says.

    Args: a stand's air; which of its cases; the distance [yd]; its way over the land, of
    `way_over_land_m`.

    Returns: points east and north of the stand [m], (point, 2), the stand first; straight
    air has two: the stand, and where the
    air along its own way is as strong as straight downwind at the distance. Missing: shape
    (0, 2) where no direction is known, or where the air is weaker everywhere.
    """
    if np.isnan(air.air_to_deg[case]):
        return np.empty((0, 2))
    carried = max(float(air.carried_mps[case]), LEAST_CARRY_MPS)
    thin = thinning_per_m(int(air.stability[case]), RANGES_M, air.height_m)
    c = plume(thin, carried, RANGES_M, 0.0, air.sigma_rad[case] * narrowing(RANGES_M))
    with np.errstate(divide="ignore"):
        far_m = _falls_to_zero_m(np.log(c) - np.log(reference_strength(like_yd * M_PER_YD)))
    if np.isnan(far_m):
        return np.empty((0, 2))
    if over_land_m is not None:
        return _first_of(over_land_m, far_m)
    angle = np.radians(float(air.air_to_deg[case]))
    return far_m * np.array([[0.0, 0.0], [np.sin(angle), np.cos(angle)]])


def _first_of(way_m: Floats, length_m: float) -> Floats:
    """The first part of a way; past its end it goes on by its last heading."""
    line = shapely.LineString(way_m)
    if length_m > line.length:
        last = way_m[-1] - way_m[-2]
        beyond = way_m[-1] + last / np.hypot(*last) * (length_m - line.length)
        return np.vstack([way_m, beyond])
    return shapely.get_coordinates(shapely.ops.substring(line, 0.0, length_m))


def _falls_to_zero_m(over: Floats) -> float:
    """The range at which a row over RANGES_M falls through zero; NaN where never above. [m]"""
    above = np.flatnonzero(over >= 0)
    if not len(above):
        return np.nan
    # a raised stand's own air thins with height: not above what it has at the tree
    last = int(above[-1])
    if last + 1 == len(over):
        return float(RANGES_M[-1])
    share = over[last] / (over[last] - over[last + 1])
    return float(RANGES_M[last] * (RANGES_M[last + 1] / RANGES_M[last]) ** share)


def telling_case(own: StandSit) -> int | None:
    """The hour that a map shows: the worst that is sat through.

    Args: the stand in its sit. Returns: the case; None without hours. Hours after
    `leave_by` or before `not_before` are left aside where others are there.
    """
    hours = own.hours
    n = len(hours.verdict)
    if not n:
        return None
    stretch = np.asarray(own.judged.stretch[0], bool)
    cases = np.flatnonzero(stretch) if stretch.any() else np.arange(n)
    directed = cases[hours.verdict[cases] != CANT_CALL]
    cases = directed if len(directed) else cases
    like = np.where(hours.counts[cases], hours.equivalent_yd[cases], np.inf)
    nearest = like.min(axis=1, initial=np.inf)
    return int(cases[np.lexsort((cases, nearest, -hours.verdict[cases]))[0]])


def worst_case(seat: StandSit, place: int) -> int | None:
    """The hour (case) in which a place is worst; None where it counts in none.

    Worst verdict, then smallest distance, then the earlier; of pieces long enough to decide,
    if it counts in any. Args: the stand in its sit; which of its places.
    """
    hours = seat.hours
    cases = np.flatnonzero(hours.counts[:, place])
    if not len(cases):
        return None
    deciding = seat.rows.deciding[cases]
    cases = cases[deciding] if deciding.any() else cases
    distance = np.nan_to_num(hours.equivalent_yd[cases, place], nan=np.inf)
    return int(cases[np.lexsort((cases, distance, -hours.place_verdict[cases, place]))[0]])


def air_from_deg(seat: StandSit, case: int) -> float:
    """Where a stand's air comes from in an hour, slope air and all; the wind where the air may
    go any way. NaN without either. Args: the stand in its sit; the hour."""
    air = seat.hours.air
    if seat.hours.cause[case] not in (SURE, IS_TURNING):
        return float(air.wind_from_deg[case])
    return float(opposite_deg(air.air_to_deg[case]))


def as_reached(sit: Sit, seat: StandSit, case: int, place: Place) -> Place:
    """A trail as its part before the shot lies that most air goes to; any other place as it is.

    Its nearest point may lie upwind while the part that deer walk before it lies in the air.
    Args: the sit; the stand in it; the hour; the place.
    """
    air_to = float(seat.hours.air.air_to_deg[case])
    ends = sit.ends_at(int(seat.rows.start_s[case]))
    part = sit.scene.before_shot(seat.stand, seat.range_yd, ends).get(place.id)
    if part is None or np.isnan(air_to):
        return place
    at_m = sit.scene.stands_m[sit.scene.index(seat.stand)]
    bearing = wrap_deg(bearing_deg(at_m, np.concatenate([part.a_m, part.b_m])))
    nearest = int(np.argmin(separation_deg(bearing, air_to)))
    return dataclasses.replace(place, bearing_deg=float(bearing[nearest]))


def reached_places(sit: Sit, own: StandSit, case: int, times: float = 1.0) -> list[ReachedPlace]:
    """Places whose air counts and is not clean by distance in an hour, strongest first.

    Args: the sit; the stand in it; the hour; how many times the distance beyond which air
    is clean still count. Missing: none where no direction is known.
    """
    hours = own.hours
    if np.isnan(hours.air.air_to_deg[case]):
        return []
    limit = sit.scene.ground.air.clean_beyond_yd * times
    nearest: dict[str, float] = {}
    for i, name in enumerate(place_ids(sit, own)):  # a trail may have two approaches
        like_yd = float(hours.equivalent_yd[case, i])
        if hours.counts[case, i] and like_yd <= limit:
            nearest[name] = min(like_yd, nearest.get(name, np.inf))
    found = [ReachedPlace(name, like_yd) for name, like_yd in nearest.items()]
    return sorted(found, key=lambda r: (r.equivalent_yd, r.id))


def _most_reached(sit: Sit, own: StandSit, case: int, id_: str) -> int:
    """Which of the places of a row has an id; of a trail's approaches the most reached."""
    hours = own.hours
    named = [i for i, name in enumerate(place_ids(sit, own)) if name == id_]
    walked = [i for i in named if hours.counts[case, i]] or named
    like = np.nan_to_num(hours.equivalent_yd[case, walked], nan=np.inf)
    return walked[int(like.argmin())]


def strongest_at(sit: Sit, own: StandSit, case: int, id_: str) -> Strongest:
    """The point of a place that gets most of the air of an hour.

    Args: the sit; the stand in it; the hour, one with a direction; the id of a bed, a food
    or a trail before the shot.
    """
    air = own.hours.air
    at, n_areas = _most_reached(sit, own, case, id_), len(sit.scene.areas)
    armed = sit.sits.armed(own.stand)
    points = (
        sit.scene.area_receptors(armed) if at < n_areas else sit.scene.approach_receptors(armed)
    )
    here = points.group == (at if at < n_areas else at - n_areas)
    far_m, bearing = points.distance_m[here], points.bearing_deg[here]
    goes_deg, along_m, more_deg = _seen_from(sit, own, case, far_m)
    beside = offset_rad(goes_deg, bearing, air.doubt_deg[case] + more_deg)
    reached = strength(
        distance_m=along_m,
        offset_rad=beside * (far_m / along_m),
        stability=int(air.stability[case]),
        carried_mps=max(float(air.carried_mps[case]), LEAST_CARRY_MPS),
        sigma_rad=air.sigma_rad[case],
        height_m=air.height_m,
    )
    at = int(reached.argmax())
    spread_deg = np.degrees(air.sigma_rad[case] * narrowing(along_m))
    off_deg = separation_deg(goes_deg, bearing)
    in_the_middle = (off_deg <= spread_deg).any()
    in_doubt = max(0.0, off_deg[at] - air.half_width_deg[case]) <= spread_deg[at]
    return Strongest(float(far_m[at]), bool(in_the_middle and in_doubt))


def _seen_from(sit: Sit, own: StandSit, case: int, far_m: Floats):
    """Where an hour's air is at some distances: bearing [deg], length [m], doubt more [deg]."""
    straight = float(own.hours.air.air_to_deg[case])
    way = way_over_land_m(sit, own, case)
    if way is None:
        return np.full(far_m.shape, straight), far_m, np.zeros(far_m.shape)
    from core.sit.land.bent import seen_from  # what only heights need is loaded here

    bearing, along_m, more = seen_from(way, straight, far_m)
    return bearing, np.maximum(along_m, far_m), more
