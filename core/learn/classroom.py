"""What the lessons share: their parts, and the examples that a ground itself offers."""

import datetime
import functools
import zlib
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from core.angles import POINTS_16, in_ranges, opposite_deg, point_deg, point_name, separation_deg
from core.answer.one_sit import StandSit, stand_sit
from core.errors import BadRequest
from core.ground.layout import Area, Property, Stand
from core.ground.place import Place
from core.judge.stand import wanted_word
from core.learn.turn_the_wind import turned_wind
from core.say.words import clock_text
from core.sit.clock import SitClock, sit_clock
from core.sit.dates import season_on
from core.sit.minutes import EVENING, MORNING
from core.sit.prepare import Sit, prepare_sit
from core.sit.scene import Scene
from core.units import M_PER_YD
from core.weather.entry import parse_wind

Floats = npt.NDArray[np.float64]
SHOWN_YD = 200.0  # an example about this far off is easy to see on the ground
HALF_POINT_DEG = 11.25
NEED_MAP = "Draw it on the Map page, then come back."


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to try: the choices, which is right, and why."""

    question: str
    choices: tuple[str, ...]
    right: int
    because: str


@dataclass(frozen=True, eq=False)
class Picture:
    """What the map of a lesson brings out: the air of `seat` in `sit`, or only the ground,
    a stand, up to two ways in, and an arrow of air with its words. `lit`: places that the
    air reaches, `noted`: others, each with words below its name, by id. `still_way_m`: the way
    that still air takes over the land.
    """

    caption: str
    sit: Sit | None = None
    seat: StandSit | None = None
    stand: str | None = None
    air_from_deg: float | None = None
    beside_arrow: tuple[str, str] = ("", "")
    ways_m: tuple[Floats, ...] = ()  # each (point, 2), local metres
    lit: dict[str, str] = field(default_factory=dict)
    noted: dict[str, str] = field(default_factory=dict)
    still_way_m: tuple[Floats, list[Floats]] | None = None  # and its doubts


@dataclass(frozen=True, eq=False)
class Lesson:
    """One screen. `says` in order; what is physics, common practice, and untested."""

    key: str
    title: str
    says: tuple[str, ...]
    physics: str
    practice: str
    untested: str
    picture: Picture
    task: Task | None = None

    @property
    def text(self) -> str:
        """Every sentence of the lesson that is read."""
        parts = [*self.says, self.physics, self.practice, self.untested, self.picture.caption]
        if self.task is not None:
            parts += [self.task.question, self.task.because]
        return "\n".join(parts)


@dataclass(frozen=True, eq=False)
class Pair:
    """A stand, a bed or food, and the wind that blows from the one to the other."""

    stand: Stand
    area: Area
    place: Place
    wind: str  # one of the sixteen points


class Room:
    """A ground on one date, as the lessons look at it."""

    def __init__(self, scene: Scene, date: datetime.date) -> None:
        self.scene, self.ground = scene, scene.ground
        self.date = open_day(scene.ground, date)

    @functools.cached_property
    def morning(self) -> SitClock:
        """The clock of the morning sit."""
        return sit_clock(self.ground, self.date, "morning")

    @functools.cached_property
    def stands(self) -> list[Stand]:
        """Stands that are not closed."""
        return [s for s in self.ground.stands if not s.closed]

    def at(self, time_s: float) -> str:
        """A clock time of the property."""
        return clock_text(time_s, self.ground.timezone)

    def sit(self, wind: str, when: str = "morning", strength: str = "steady") -> Sit:
        """A sit in a turned wind; `wind` "calm" for none."""
        hours = parse_wind("calm") if wind == "calm" else turned_wind(wind, strength)
        return prepare_sit(self.scene, hours, self.date, when)

    def judged(self, stand: Stand, wind: str, when: str = "morning") -> tuple[Sit, StandSit]:
        """One stand judged in a turned wind."""
        sit = self.sit(wind, when)
        return sit, stand_sit(sit, stand)

    @functools.cached_property
    def pair(self) -> Pair | None:
        """The stand and bed (else food) that make the plainest example; None without."""
        for kind in ("bedding", "food"):
            pairs = [
                p
                for s in self.stands
                for a in self.scene.areas
                if a.kind == kind and (p := self._pair(s, a)) is not None
            ]
            if pairs:
                return min(pairs, key=self._plainness)
        return None

    def _plainness(self, pair: Pair):
        """Plain examples first: a wanted seat, a day bed, a wind of the eight points."""
        unwanted = wanted_word(pair.stand, MORNING, self.morning.part) == "not-now"
        off_yd = abs(pair.place.distance_m / M_PER_YD - SHOWN_YD)
        at_night = pair.area.held == "night"
        return unwanted, at_night, len(pair.wind) > 2, off_yd, pair.stand.id, pair.area.id

    def _pair(self, stand: Stand, area: Area) -> Pair | None:
        place = self.scene.places(stand)[area.id]
        if place.inside or area.held == "never" or self.date.month not in area.months:
            return None
        wind = point_name(float(opposite_deg(place.bearing_deg)))
        counts = in_ranges(point_deg(wind), area.with_wind_deg, HALF_POINT_DEG)
        return Pair(stand, area, place, wind) if counts else None

    def areas(self, kind: str, held: tuple[str, ...]) -> list[Area]:
        """Areas of a kind held so, that count in this month."""
        return [
            a
            for a in self.scene.areas
            if a.kind == kind and a.held in held and self.date.month in a.months
        ]

    def nearest_to(self, stand: Stand, toward_deg: float, skip: set[str]) -> Place | None:
        """The place that lies most in a direction from a stand; None outside 45 degrees."""
        found = [
            (float(separation_deg(p.bearing_deg, toward_deg)), p.distance_m, p.id, p)
            for p in self.scene.places(stand).values()
            if p.kind in ("bedding", "food") and not p.inside and p.id not in skip
        ]
        near = [f for f in found if f[0] <= 45.0]
        return min(near)[3] if near else None


def teaching_date(ground: Property, today: datetime.date) -> datetime.date:
    """Today where a season covers it, else the first day of the next season.

    Args: the property; today. Returns: today too where no season is drawn.
    """
    if not ground.seasons or season_on(ground, today, None) is not None:
        return today
    days = (today + datetime.timedelta(days=i) for i in range(366))
    return next((d for d in days if season_on(ground, d, None) is not None), today)


def open_day(ground: Property, date: datetime.date) -> datetime.date:
    """A date, or the first of the week after it, whose closed hours leave both sits some time.

    Args: the property; the date. Raises: BadRequest where no such day follows in a week.
    """
    for i in range(8):
        day = date + datetime.timedelta(days=i)
        if all(sit_clock(ground, day, s).start_s is not None for s in (MORNING, EVENING)):
            return day
    raise BadRequest(
        f"closed hours leave no morning and evening from {date.isoformat()} on",
        ground.name,
        "Check the closed hours of the season.",
    )


def date_text(date: datetime.date) -> str:
    """A date as November 10."""
    months = (
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    )
    return f"{months[date.month - 1]} {date.day}"


def lacking(key: str, title: str, what: str, apart: tuple[str, str, str]) -> Lesson:
    """A lesson that the ground can't teach yet.

    Args: its key and title; what is not drawn; what is physics, practice, untested.
    """
    return Lesson(key, title, (f"This lesson needs {what}. {NEED_MAP}",), *apart, Picture(""))


def mixed(task: Task, seed: str) -> Task:
    """The choices turned round, so that the right one has no fixed place.

    Args: the task; any text, the same for the same lesson of the same ground.
    """
    n = len(task.choices)
    by = zlib.crc32(seed.encode()) % n
    turned = tuple(task.choices[(i + by) % n] for i in range(n))
    return replace(task, choices=turned, right=(task.right - by) % n)


def turn_points(point: str, steps: int) -> str:
    """The point some sixteenths clockwise of another."""
    return POINTS_16[(POINTS_16.index(point) + steps) % 16]
