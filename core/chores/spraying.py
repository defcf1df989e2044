"""Hours of a forecast in which a trail may be sprayed, by the limits typed from its label.

The label is the law: without the day on which somebody read it no hour is given. Limits
that no label sets (the gust, a quarter turn of air, two hours, chances of rain) are common
practice, no source. No spraying into an inversion: classes A to D only, and not from an
hour before sunset to an hour after sunrise.
Source: [pasquill1961] for the night hours.
"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.air.stability import D
from core.angles import signed_difference_deg
from core.chores.beside import features_by_id, shape_of
from core.chores.visit import whole_days
from core.ground.layout import Property
from core.ground.plan import Plane, bearing_deg
from core.ground.yearly.work_rules import Label
from core.sit.scene import Scene
from core.units import M_PER_YD, MPS_PER_MPH, SECONDS_PER_HOUR
from core.weather.hours import DIRECTED, Hours

LEAST_H, MOST_WINDOWS = 2, 3
HALF_TURN_DEG = 45.0  # to either side of where the air goes
RAIN_MM, RAIN_CHANCE = 0.1, 0.2
EDGE_S = SECONDS_PER_HOUR  # of the night
EVERY_M = 5.0
KEEP_OFF = "keep off"  # in the notes of a feature
NO_WIND, LIGHT, STRONG, GUST, INVERSION, DOWNWIND, RAIN, WET, COLD, HOT, NOT_KNOWN, END = (
    *("no wind", "light", "strong", "gust", "inversion", "downwind"),
    *("rain", "wet", "cold", "hot", "not known", "end"),
)


@dataclass(frozen=True, slots=True)
class SprayWindow:
    """Hours in which all limits hold; `ended_by` says which does not in the next one, and
    `place` what then lies downwind."""

    start_s: int
    end_s: int
    ended_by: str
    place: str
    rows: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class Downwind:
    """What lies near a trail: bearings from its points, and whose they are. Shapes (pair,)."""

    bearing_deg: npt.NDArray[np.float64]
    place: npt.NDArray[np.int64]
    names: list[str]  # ids
    through: str  # what the trail runs through, or nothing

    def met(self, air_to_deg: float, half_width_deg: float) -> str:
        """What lies downwind of any point of the trail; empty for nothing. Args: [deg]"""
        if self.through:
            return self.through
        off = np.abs(signed_difference_deg(self.bearing_deg, air_to_deg))
        hit = np.flatnonzero(off <= HALF_TURN_DEG + half_width_deg)
        return self.names[int(self.place[hit[0]])] if len(hit) else ""


def keep_offs(ground: Property) -> list[str]:
    """Ids of what spray must not reach: water, food, boundaries, what says 'keep off'."""
    found = []
    for id_, feature in features_by_id(ground).items():
        kind = getattr(feature, "kind", "")
        if kind in ("water", "food", "boundary") or KEEP_OFF in feature.notes.casefold():
            found.append(id_)
    return found


def near_trail(ground: Property, trail: str, keep_off_yd: float) -> Downwind:
    """What lies within the label's distance of a trail.

    Args: the ground; the trail's id; the distance [yd].
    """
    plane, features = Plane(ground.center), features_by_id(ground)
    line = shape_of(features[trail], plane)
    spots = shapely.get_coordinates(shapely.segmentize(line, EVERY_M))
    names, bearings, places, through = keep_offs(ground), [], [], ""
    for i, id_ in enumerate(names):
        feature = features[id_]
        shape = shape_of(feature, plane)
        if shape.geom_type == "Polygon" and getattr(feature, "kind", "") == "boundary":
            shape = shape.exterior
        if shape.intersects(line):
            through = through or id_
        edge = shape.exterior if shape.geom_type == "Polygon" else shape
        points = shapely.get_coordinates(shapely.segmentize(edge, EVERY_M))
        gap = points[None] - spots[:, None]
        near = np.hypot(gap[..., 0], gap[..., 1]) <= keep_off_yd * M_PER_YD
        a, b = np.nonzero(near)
        bearings.append(np.asarray(bearing_deg(spots[a], points[b]), float))
        places.append(np.full(len(a), i))
    return Downwind(
        np.concatenate(bearings) if bearings else np.zeros(0),
        np.concatenate(places) if places else np.zeros(0, int),
        names,
        through,
    )


def spray_windows(
    scene: Scene, trail: str, label: Label, weather: Hours, now_s: float
) -> list[SprayWindow]:
    """At most three windows of two hours or more, the longest first.

    Args: the scene; the trail's id; the label's limits; the forecast; the clock [epoch s].
    Missing: none without the day on which the label was read; an hour whose wind,
    temperature or rain is not told is none. A gust that is not told is not held against it.
    """
    if label.read_on is None or weather.held or not len(weather):
        return []
    against = reasons_against(scene, trail, label, weather)
    found = []
    n, i = len(weather), int(np.searchsorted(weather.start_s, now_s))
    while i < n:
        j = i
        while j < n and not against[j][0] and (j == i or _follows(weather, j)):
            j += 1
        if j - i >= LEAST_H:
            cut = j < n and _follows(weather, j)
            ended, place = against[j] if cut else (END, "")
            start, end = int(weather.start_s[i]), int(weather.start_s[j - 1]) + SECONDS_PER_HOUR
            found.append(SprayWindow(start, end, ended, place, tuple(range(i, j))))
        i = max(j, i + 1)
    return sorted(found, key=lambda w: (w.start_s - w.end_s, w.start_s))[:MOST_WINDOWS]


def _follows(weather: Hours, i: int) -> bool:
    return bool(weather.start_s[i] - weather.start_s[i - 1] == SECONDS_PER_HOUR)


def reasons_against(
    scene: Scene, trail: str, label: Label, weather: Hours
) -> list[tuple[str, str]]:
    """What speaks against each hour of a forecast, and the place it is about; empty for none.

    Args: as `spray_windows`.
    """
    sits, which = whole_days(scene, weather)
    hours = sits.found.hours
    row = sits.found.index_of(weather.start_s + EDGE_S // 2, which)
    near = near_trail(scene.ground, trail, label.keep_off_yd)
    sunrise, sunset = sits.clock.sunrise_s[which], sits.clock.sunset_s[which]
    night = (weather.start_s < sunrise + EDGE_S) | (weather.start_s + EDGE_S > sunset - EDGE_S)
    inversion = night | (hours.stability[row] > D)
    rain = _rain(weather)
    return [
        _against(i, label, weather, near, bool(inversion[i]), rain) for i in range(len(weather))
    ]


def _against(i, label, weather, near, inversion, rain) -> tuple[str, str]:
    air = _air_against(i, label, weather, near, inversion)
    if air[0]:
        return air
    return _rain_against(i, label, weather, rain), ""


def _air_against(i, label, weather, near, inversion) -> tuple[str, str]:
    """Wind, gust, inversion, what lies downwind, temperature; of one hour."""
    if weather.state[i] != DIRECTED:
        return NO_WIND, ""
    low, high = (x / MPS_PER_MPH for x in (weather.speed_low_mps[i], weather.speed_high_mps[i]))
    if low < label.wind_from_mph - 1e-9:
        return LIGHT, ""
    if high > label.wind_to_mph + 1e-9:
        return STRONG, ""
    if weather.gust_mps[i] / MPS_PER_MPH > label.gust_mph + 1e-9:  # NaN is over nothing
        return GUST, ""
    if inversion:
        return INVERSION, ""
    air_to = (float(weather.wind_from_deg[i]) + 180.0) % 360.0
    place = near.met(air_to, float(weather.half_width_deg[i]))
    if place:
        return DOWNWIND, place
    warm_f = float(weather.temperature_c[i]) * 9.0 / 5.0 + 32.0
    if math.isnan(warm_f):
        return NOT_KNOWN, ""
    return (COLD if warm_f < label.from_f - 1e-9 else HOT if warm_f > label.to_f + 1e-9 else ""), ""


def _rain(weather: Hours):
    """Whether rain is to be counted on in each hour: 1 yes, 0 no, NaN not told."""
    mm, chance = weather.rain_mm, weather.rain_chance_frac
    told = ~(np.isnan(mm) & np.isnan(chance))
    wet = (np.nan_to_num(mm) >= RAIN_MM) | (np.nan_to_num(chance) > RAIN_CHANCE + 1e-9)
    return np.where(told, wet, np.nan)


def _rain_against(i: int, label: Label, weather: Hours, rain) -> str:
    """Wet leaves before, and rain in the hours that the label wants dry."""
    before = i > 0 and _follows(weather, i)
    if before and rain[i - 1] == 1:
        return WET
    until_s = weather.start_s[i] + SECONDS_PER_HOUR + label.rain_free_h * SECONDS_PER_HOUR
    after = (weather.start_s >= weather.start_s[i]) & (weather.start_s < until_s)
    if (rain[after] == 1).any():
        return RAIN
    wanted = math.ceil(1 + label.rain_free_h)
    whole = int(after.sum()) >= wanted and not np.isnan(rain[after]).any()
    return "" if whole else NOT_KNOWN
