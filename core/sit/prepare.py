"""A sit made ready: its clock, its hours, its hunter, and a stand's hours in it."""

import datetime
from dataclasses import dataclass

import numpy as np

from core.angles import mean_direction_deg
from core.errors import BadRequest, NoForecast
from core.ground.layout import Person, Stand
from core.sit.before import BEDDING_END, FOOD_END
from core.sit.clock import SitClock, sit_clock
from core.sit.exposure import StandHours, stand_hours
from core.sit.minutes import ALL_DAY, MORNING
from core.sit.rows import Rows, SlopeRows, make_rows, stand_air
from core.sit.scene import IN, OUT, Scene
from core.units import SECONDS_PER_MINUTE
from core.weather.hours import MISSING, Hours


@dataclass(frozen=True, eq=False)
class Sit:
    """What all stands of one sit share."""

    scene: Scene
    clock: SitClock
    rows: Rows
    window: slice  # rows of the window
    hunter: Person | None
    weather: Hours

    def range_yd(self, stand: Stand) -> float:
        """The smaller range of stand and hunter."""
        return min(stand.range_yd, self.hunter.range_yd) if self.hunter else stand.range_yd

    def ends_at(self, time_s: float) -> tuple[str, ...]:
        """The ends of the corridors that deer come from at an instant."""
        if self.clock.all_day_part:
            return (FOOD_END, BEDDING_END)
        if self.clock.sit == ALL_DAY:
            return (FOOD_END,) if time_s < self.clock.day.noon_s else (BEDDING_END,)
        return (FOOD_END,) if self.clock.sit == MORNING else (BEDDING_END,)

    @property
    def timezone(self) -> str:
        """The time zone of the property."""
        return self.scene.ground.timezone

    def shown_start_s(self, case: int) -> int:
        """When a row of the window begins as it is shown: not before the window does."""
        start = int(self.clock.row_start_s[case])
        return max(start, self.clock.start_s or start)

    @property
    def mean_wind_deg(self) -> float:
        """Unit-vector mean of the window's directed hours; NaN without."""
        return mean_direction_deg(self.rows.weather.wind_from_deg[self.window])


def prepare_sit(
    scene: Scene,
    weather: Hours,
    date: datetime.date,
    sit: str,
    *,
    hunter: str | None = None,
    weapon: str | None = None,
) -> Sit:
    """The clock and the hours of one sit.

    Args:
        scene: of the property.
        weather: the hourly table, of any source.
        date, sit: local date; morning, evening or all-day.
        hunter: a name from the property's people; None for nobody's range.
        weapon: of a season; None for the first season that covers the date.

    Raises: BadRequest for an unknown hunter or weapon; NoSun; NoForecast where no
    hour of the weather lies in the sit.
    """
    ground = scene.ground
    person = _person(ground.people, hunter)
    if weapon and ground.seasons and weapon.casefold() not in _weapons(ground):
        raise BadRequest(
            f"no season of this property is for '{weapon}'",
            "the weapon",
            f"Use one of: {', '.join(sorted(s.weapon for s in ground.seasons))}.",
        )
    clock = sit_clock(ground, date, sit, weapon)
    first, last = clock.start_s, clock.end_s
    if first is None or last is None:
        first, last = clock.legal_start_s, clock.legal_end_s
    longest = _longest_walk_min(scene)
    before = ground.sit.settle_min + longest + max((s.set_up_min for s in ground.stands), default=0)
    rows = make_rows(
        ground,
        clock.day,
        weather,
        min(first, clock.seated_s) - before * SECONDS_PER_MINUTE,
        last + longest * SECONDS_PER_MINUTE,
    )
    if len(clock.row_start_s):
        at = int(rows.index_of(clock.row_start_s[0]))
        window = slice(at, at + len(clock.row_start_s))
        if (rows.weather.state[window] == MISSING).all() and not _any_in(weather, clock):
            raise NoForecast(
                f"no hour of the weather lies in the {sit} of {date.isoformat()}",
                weather.source or weather.format,
                "Choose a date inside the forecast, or type the wind.",
            )
    else:
        window = slice(0, 0)
    return Sit(scene, clock, rows, window, person, weather)


def _any_in(weather: Hours, clock: SitClock) -> bool:
    """Whether the table has a row, even one without wind, in the window."""
    return bool(weather.holds(clock.row_start_s).any())


def _weapons(ground) -> set[str]:
    return {s.weapon.casefold() for s in ground.seasons}


def _person(people: tuple[Person, ...], name: str | None) -> Person | None:
    if name is None:
        return None
    for person in people:
        if person.name.casefold() == name.casefold():
            return person
    known = ", ".join(p.name for p in people) or "nobody yet"
    raise BadRequest(f"no hunter is called '{name}'", "the hunter", f"People here: {known}.")


def _longest_walk_min(scene: Scene) -> float:
    ways = (w for s in scene.ground.stands for d in (IN, OUT) for w in scene.ways(s, d))
    return float(max((w.minutes for w in ways), default=0))


def window_hours(sit: Sit, stand: Stand, slope: SlopeRows | None, wind_from_deg=None) -> StandHours:
    """The hours of the window at one stand.

    Args: `wind_from_deg`: directions to put in every directed hour, shape
    (direction,); None for the forecast's own. Returns cases in the order
    direction, row.
    """
    rows = sit.rows
    own = np.arange(len(rows.start_s))[sit.window]
    if wind_from_deg is None:
        row, wind = own, rows.weather.wind_from_deg[own]
    else:
        row = np.tile(own, len(wind_from_deg))
        swept = np.repeat(np.asarray(wind_from_deg, float), len(own))
        wind = np.where(rows.directed[row], swept, np.nan)
    range_yd = sit.range_yd(stand)
    ends = [sit.ends_at(float(t)) for t in rows.middle_s[row]]
    kinds = sorted(set(ends))
    if len(kinds) <= 1:
        air = stand_air(rows, stand, slope, row, wind)
        return stand_hours(
            sit.scene, rows, stand, slope, air, range_yd, kinds[0] if kinds else (FOOD_END,)
        )
    return _two_ended(sit, stand, slope, row, wind, ends, kinds)


def _two_ended(sit: Sit, stand: Stand, slope, row, wind, ends, kinds) -> StandHours:
    """An all-day sit: deer come from one end before noon, from the other after."""
    pieces, places = [], []
    for kind in kinds:
        mask = np.array([e == kind for e in ends])
        air = stand_air(sit.rows, stand, slope, row[mask], wind[mask])
        pieces.append(
            stand_hours(sit.scene, sit.rows, stand, slope, air, sit.range_yd(stand), kind)
        )
        places.append(np.flatnonzero(mask))
    order = np.argsort(np.concatenate(places), kind="stable")

    def joined(name):
        return np.concatenate([getattr(p, name) for p in pieces])[order]

    names = ("equivalent_yd", "zone_verdict", "counts", "verdict", "cause", "still")
    return StandHours(
        air=stand_air(sit.rows, stand, slope, row, wind),
        corridors=pieces[0].corridors,
        **{name: joined(name) for name in names},
    )
