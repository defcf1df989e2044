"""Try a tree: what a spot would be for one sit, and over the season's winds.

The spot is judged as a stand by the same sums as every stand, on a copy of the ground
that holds it alone. The nearest lane within 150 yards leads to it, with a straight end;
farther off there is no way in, and its air is answered alone.
"""

import dataclasses
import datetime
from collections.abc import Callable, Iterable

import numpy as np
import shapely

from core.answer.one_sit import StandSit, stand_sit
from core.errors import BadRequest
from core.ground.heights.slope_at import rounded_slope
from core.ground.kinds import SEAT_HEIGHT_FT, SET_UP_MIN
from core.ground.layout import COVERS, SEATS, Lane, LonLat, Property, Stand
from core.judge.stand import stand_sits
from core.land.agreed import shown_slope
from core.land.kept import GROUND, KeptLand
from core.sit.clock import clocks
from core.sit.dates import dates_on
from core.sit.minutes import EVENING, MORNING
from core.sit.prepare import Sit, prepare_sit, prepare_sits
from core.sit.rows import origin_s
from core.sit.scene import Scene
from core.sit.verdicts import CANT, GO, STAY
from core.units import M_PER_YD
from core.weather.hours import Hours

TRIED = "tried-spot"
LANE_WITHIN_YD = 150.0
FARTHEST_YD = 2000.0  # from the property's centre or its nearest stand: a slip of the finger
USUAL_HEIGHT_FT = 16.0
STEP_DAYS = 3  # days of the season that are tried: coarse, and said so


@dataclasses.dataclass(frozen=True, eq=False)
class Tried:
    """A spot in one sit. `lanes` lead to it; without any only its air is judged."""

    sit: Sit
    own: StandSit
    lanes: tuple[Lane, ...]

    @property
    def air_group(self) -> int:
        """Go, can't call or stay out by the air at the seat alone."""
        return int(self.own.judged.air_group[0])

    @property
    def air_verdict(self) -> int:
        """Clean, just-off, can't call or wrong by the air at the seat alone."""
        return int(self.own.judged.air_verdict[0])


@dataclasses.dataclass(frozen=True, slots=True)
class SeasonShare:
    """How many of the sits that were tried fall into each group, by air and by all.

    `led`: a lane leads to the spot; without one only the air says something.
    """

    sit: str
    led: bool
    n_sits: int
    by_air: tuple[int, int, int]  # go, can't call, stay out
    with_way: tuple[int, int, int]


def spot(at: LonLat, seat: str = "hang-on", height_ft: float | None = None, **more) -> Stand:
    """A stand to try.

    Args:
        at: (lon, lat). [deg]
        seat: one of the seats.
        height_ft: of the seat; None is the usual for it.
        more: any other of a stand's properties: cover, range_yd, lies, downhill_deg...

    Raises: BadRequest for a seat, cover or height that no stand has, and half a slope.
    """
    if seat not in SEATS:
        raise BadRequest(f"'{seat}' is no seat", "the spot", f"Use one of: {', '.join(SEATS)}.")
    if more.get("cover", "timber") not in COVERS:
        raise BadRequest(
            f"'{more['cover']}' is no cover", "the spot", f"Use one of: {', '.join(COVERS)}."
        )
    height = SEAT_HEIGHT_FT.get(seat, USUAL_HEIGHT_FT) if height_ft is None else height_ft
    if not 0 <= height <= 100:
        raise BadRequest(f"a seat {height:g} ft up", "the spot", "Use 0 to 100 ft.")
    if (more.get("downhill_deg") is None) != (more.get("grade_pct") is None):
        raise BadRequest("half a slope is given", "the spot", "Give the way down and the grade.")
    more = {"set_up_min": SET_UP_MIN.get(seat, 0.0), **more}
    return Stand(id=TRIED, name="This spot", at=at, seat=seat, height_ft=height, **more)


def on_its_slope(stand: Stand, heights: KeptLand | None) -> Stand:
    """The spot with the slope that the heights show; as it was where they show none.

    Args: from `spot`; the heights of the ground, None without.
    """
    if heights is None or not heights.use or heights.surface != GROUND:
        return stand
    shown = shown_slope(heights, stand)
    told = None if shown is None else rounded_slope(shown)
    if told is None:
        return stand
    return dataclasses.replace(stand, downhill_deg=told[0], grade_pct=told[1])


def tried_ground(ground: Property, stand: Stand) -> Property:
    """The ground with the spot as its only stand, and the nearest lane leading to it.

    Args: the property; the spot. Raises: BadRequest for a spot far from the ground.
    """
    scene = Scene(dataclasses.replace(ground, stands=(stand,)))
    at = shapely.Point(scene.stands_m[0])
    _check_near(scene, ground, at)
    near = sorted(
        (scene.lane_lines[lane.id].distance(at), lane.id, lane)
        for lane in ground.lanes
        if scene.lane_lines[lane.id].distance(at) <= LANE_WITHIN_YD * M_PER_YD
    )
    lanes = [lane for _, _, lane in near]
    picked = [next((ln for ln in lanes if ln.way in (way, "both")), None) for way in ("in", "out")]
    own = tuple(
        dataclasses.replace(lane, stands=(TRIED,))
        for lane in dict.fromkeys(picked)
        if lane is not None
    )
    return dataclasses.replace(ground, stands=(stand,), lanes=own)


def _check_near(scene: Scene, ground: Property, at) -> None:
    known = [(0.0, 0.0), *scene.plane.points([s.at for s in ground.stands])]
    yards = shapely.MultiPoint(known).distance(at) / M_PER_YD
    if not yards <= FARTHEST_YD:
        raise BadRequest(
            f"the spot is {yards:,.0f} yd from the ground",
            "the spot",
            "Tap on the ground, or mend longitude and latitude.",
        )


def try_sit(
    ground: Property,
    stand: Stand,
    weather: Hours,
    date: datetime.date,
    sit: str,
    hunter: str | None = None,
    heights: KeptLand | None = None,
) -> Tried:
    """What a spot would be in one sit.

    Args:
        ground: the property as it is.
        stand: from `spot`.
        weather, date, sit, hunter: as for `core.sit.prepare.prepare_sit`.
        heights: of the ground; None without.

    Raises: BadRequest, NoForecast and NoSun as for any sit.
    """
    own = tried_ground(ground, stand)
    ready = prepare_sit(Scene(own, heights), weather, date, sit, hunter=hunter)
    return Tried(ready, stand_sit(ready, stand), own.lanes)


def tried_dates(ground: Property, year: int, step_days: int = STEP_DAYS) -> list[datetime.date]:
    """Every so many days of the seasons that begin in a year, in order.

    Args: the property; the year; the step. Missing: a property without a season gives none.
    """
    days = set()
    for season in ground.seasons:
        first = _on(year, season.first)
        last = _on(year if season.first <= season.last else year + 1, season.last)
        days |= {first + datetime.timedelta(n) for n in range((last - first).days + 1)}
    return sorted(days)[::step_days]


def _on(year: int, month_day: str) -> datetime.date:
    month, day = int(month_day[:2]), int(month_day[3:])
    # 29 February of a year without one
    return datetime.date(year, month, 28 if (month, day) == (2, 29) and year % 4 else day)


def season_share(
    ground: Property,
    stand: Stand,
    hours_on: Callable[[datetime.date], Hours],
    dates: Iterable[datetime.date],
    heights: KeptLand | None = None,
) -> tuple[SeasonShare, SeasonShare]:
    """How a spot fares over a season's mornings and evenings.

    Args:
        ground: the property as it is.
        stand: from `spot`.
        hours_on: the hours round a date, like `core.weather.files.typical.typical_hours`.
        dates: the days to try.
        heights: of the ground; None without.

    Returns: shares of mornings and of evenings.
    """
    scene = Scene(tried_ground(ground, stand), heights)
    days = list(dates)
    weather = [hours_on(day) for day in days]
    known = dates_on(scene.ground, days)
    led = bool(scene.ground.lanes)

    def share(sit: str) -> SeasonShare:
        if not days:
            return SeasonShare(sit, led, 0, (0, 0, 0), (0, 0, 0))
        clock = clocks(scene.ground, known, sit, origin_s=origin_s(weather))
        found = stand_sits(prepare_sits(scene, weather, clock), stand)
        return SeasonShare(sit, led, len(days), _three(found.judged.air_group), _three(found.group))

    return share(MORNING), share(EVENING)


def _three(group) -> tuple[int, int, int]:
    """How many sits are go, can't call and stay out. Args: groups, shape (sit,)."""
    counts = np.bincount(group, minlength=3)
    return int(counts[GO]), int(counts[CANT]), int(counts[STAY])
