"""The work of the year as a property file tells it: windows, intervals, gear, own chores.

Windows and intervals are common practice with no source, and settings of the owner. Days
of the year that are not set are those of the hemisphere (`core.chores.windows`).
"""

from dataclasses import dataclass, field

from core.ground import fields as f
from core.ground.fields import Fault, Field

Window = tuple[str, str]  # first and last day of the year, MM-DD; it may wrap
DatesByKind = tuple[tuple[str, str], ...]  # kind of chore, YYYY-MM-DD
JOBS = ("stand", "lane", "move")
PLOT_JOBS = ("soil-test", "lime", "seed", "mow")


@dataclass(frozen=True, slots=True)
class Gear:
    """Something with a date printed on it, such as a harness or the strap of a stand."""

    name: str
    replace_by: str  # YYYY-MM-DD
    feature: str | None = None


@dataclass(frozen=True, slots=True)
class Thicket:
    """A bed that is cut back in sections, one a winter."""

    feature: str
    sections: int = 3


@dataclass(frozen=True, slots=True)
class OwnChore:
    """A chore of the owner's own: on one date, each year in a window, or every so many days."""

    name: str
    feature: str | None = None
    on: str | None = None
    each_year: Window | None = None
    every_days: int | None = None


@dataclass(frozen=True, slots=True)
class PlannedJob:
    """Work that the season review found, put on the list until the map shows it done.

    `at` is the spot of a new stand, or where the stand stood that is to be moved.
    """

    name: str
    kind: str  # of JOBS
    gains_sits: int
    of_sits: int
    cut_yd: int
    stand: str | None = None
    lane: str | None = None
    at: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """What the herbicide's label allows, as typed by whoever read it."""

    read_on: str | None = None  # without it no window for spraying is shown
    wind_from_mph: float = 3.0
    wind_to_mph: float = 10.0
    gust_mph: float = 15.0
    rain_free_h: float = 6.0
    from_f: float = 50.0
    to_f: float = 85.0
    keep_off_yd: float = 100.0


@dataclass(frozen=True, slots=True)
class WorkRules:
    winter: Window | None = None  # cutting, walking the sign
    summer: Window | None = None  # looking along trails, straps, trees
    records: Window | None = None
    leaf_out: str | None = None  # MM-DD, when regrowth has its leaves
    spray_after_days: int = 14
    spray_by_days: int = 21
    trim_weeks_before: int = 3  # ways in and shooting lanes are done so long before the opener
    trim_days: int = 30  # and begun so long before that
    cut_every_years: int = 1
    spray_every_years: int = 1
    camera_days: int = 30
    coming_days: int = 60  # what opens sooner is said to be coming
    gear_days: int = 60  # before its printed date
    saw_rests: bool = True  # no saw in or beside a bed from `saw_rests_from` to the season's end
    saw_rests_from: str | None = None
    beside_bed_yd: float = 50.0
    noise_with_rain: bool = True  # noisy work with rain coming and a wind to nothing held
    lee_within_yd: float = 100.0
    plots: tuple[tuple[str, Window], ...] = ()  # of PLOT_JOBS: the owner's own dates
    gear: tuple[Gear, ...] = ()
    thickets: tuple[Thicket, ...] = ()
    own: tuple[OwnChore, ...] = ()
    jobs: tuple[PlannedJob, ...] = ()
    left_out: tuple[str, ...] = ()  # keys of chores that this ground does not have
    done: DatesByKind = ()  # of chores without a feature
    label: Label = field(default_factory=Label)


def window(value) -> Window:
    """First and last day of the year, as ["01-15", "03-31"]. Raises: Fault."""
    if not isinstance(value, list) or len(value) != 2:
        raise Fault(f"is {f.shown(value)}, not two days", 'Write them like ["01-15", "03-31"].')
    return f.named(f.month_day, value[0], "first"), f.named(f.month_day, value[1], "last")


def place(value) -> tuple[float, float]:
    """[longitude, latitude] in degrees. Raises: Fault."""
    if not isinstance(value, list) or len(value) != 2:
        raise Fault(f"is {f.shown(value)}, not a place", "Write [longitude, latitude].")
    return f.number(-180, 180)(value[0]), f.number(-90, 90)(value[1])


def dates_by_kind(value) -> DatesByKind:
    """Dates by the kind of chore, as {"trim": "2026-08-22"}. Raises: Fault."""
    if not isinstance(value, dict):
        raise Fault(f"is {f.shown(value)}, not an object", "Write kinds and dates in { }.")
    return tuple((kind, f.named(f.date, day, kind)) for kind, day in value.items())


def _plots(value) -> tuple[tuple[str, Window], ...]:
    if not isinstance(value, dict):
        raise Fault(f"is {f.shown(value)}, not an object", "Write jobs and days in { }.")
    for job in value:
        f.named(f.choice(PLOT_JOBS), job, "job")
    return tuple((job, f.named(window, days, job)) for job, days in value.items())


def _own(**values) -> OwnChore:
    if sum(values[name] is not None for name in ("on", "each_year", "every_days")) != 1:
        raise Fault("says not once when it is", "Give it one of on, each_year, every_days.")
    return OwnChore(**values)


def _label(**values) -> Label:
    for low, high in (("wind_from_mph", "wind_to_mph"), ("from_f", "to_f")):
        if values[high] < values[low]:
            raise Fault(
                f"has {high} {values[high]:g} under {low} {values[low]:g}", "Turn them round."
            )
    return Label(**values)


_YEARS, _DAYS = f.whole(1, 20), f.whole(1, 3660)
_FEATURE = Field("feature", f.filled)
_GEAR = (Field("name", f.filled, needed=True), Field("replace_by", f.date, needed=True), _FEATURE)
_THICKET = (Field("feature", f.filled, needed=True), Field("sections", f.whole(2, 20), 3))
_OWN = (
    Field("name", f.filled, needed=True),
    _FEATURE,
    Field("on", f.date),
    Field("each_year", window),
    Field("every_days", _DAYS),
)
_JOB = (
    Field("name", f.filled, needed=True),
    Field("kind", f.choice(JOBS), needed=True),
    Field("gains_sits", f.whole(0, 1_000_000), 0),
    Field("of_sits", f.whole(0, 1_000_000), 0),
    Field("cut_yd", f.whole(0, 10_000), 0),
    Field("stand", f.filled),
    Field("lane", f.filled),
    Field("at", place),
)
_LABEL = (
    Field("read_on", f.date),
    Field("wind_from_mph", f.number(0, 40), 3.0),
    Field("wind_to_mph", f.number(0, 40), 10.0),
    Field("gust_mph", f.number(0, 60), 15.0),
    Field("rain_free_h", f.number(0, 72), 6.0),
    Field("from_f", f.number(-20, 130), 50.0),
    Field("to_f", f.number(-20, 130), 85.0),
    Field("keep_off_yd", f.number(0, 2000), 100.0),
)
WORK_FIELDS = (
    Field("winter", window),
    Field("summer", window),
    Field("records", window),
    Field("leaf_out", f.month_day),
    Field("spray_after_days", f.whole(0, 200), 14),
    Field("spray_by_days", f.whole(1, 250), 21),
    Field("trim_weeks_before", f.whole(0, 26), 3),
    Field("trim_days", f.whole(1, 180), 30),
    Field("cut_every_years", _YEARS, 1),
    Field("spray_every_years", _YEARS, 1),
    Field("camera_days", _DAYS, 30),
    Field("coming_days", f.whole(1, 366), 60),
    Field("gear_days", f.whole(1, 366), 60),
    Field("saw_rests", f.yes_no, True),
    Field("saw_rests_from", f.month_day),
    Field("beside_bed_yd", f.number(0, 2000), 50.0),
    Field("noise_with_rain", f.yes_no, True),
    Field("lee_within_yd", f.number(0, 1000), 100.0),
    Field("plots", _plots, ()),
    Field("gear", f.listed(f.record(_GEAR, Gear), "gear"), ()),
    Field("thickets", f.listed(f.record(_THICKET, Thicket), "thickets"), ()),
    Field("own", f.listed(f.record(_OWN, _own), "own chores"), ()),
    Field("jobs", f.listed(f.record(_JOB, PlannedJob), "jobs"), ()),
    Field("left_out", f.listed(f.text, "keys of chores"), ()),
    Field("done", dates_by_kind, ()),
    Field("label", f.record(_LABEL, _label), Label()),
)


def _work(**values) -> WorkRules:
    if values["spray_by_days"] <= values["spray_after_days"]:
        raise Fault(
            f"has spray_by_days {values['spray_by_days']}, not after spray_after_days "
            f"{values['spray_after_days']}",
            "Make spray_by_days the larger of the two.",
        )
    return WorkRules(**values)


work_rules = f.record(WORK_FIELDS, _work)
