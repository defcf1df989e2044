"""The ground as frozen models: what the program reads from a property file.

The models hold what the sums need. The file itself, with every member that the
program does not know, is kept by `core.ground.store` and saved as it came.
Coordinates are (lon, lat) in degrees, WGS84, as in the file (RFC 7946).
"""

from dataclasses import dataclass, field

from core.ground.yearly.work_rules import DatesByKind, WorkRules

LonLat = tuple[float, float]
Line = tuple[LonLat, ...]
Ranges = tuple[tuple[float, float], ...]
ByWeapon = tuple[tuple[str, float], ...]  # weapon, yards
ALL_ROUND: Ranges = ((0.0, 360.0),)
ALL_MONTHS = tuple(range(1, 13))

SEATS = ("hang-on", "ladder", "climber", "saddle", "tripod", "box", "ground-blind")
COVERS = ("open", "edge", "timber")
LIES = ("ridge", "point", "side", "bench", "gap", "bottom", "flat")
WANTED = ("best", "good", "watch", "not-now")
FOOTINGS = ("mown", "bare", "leaves", "gravel", "creek")
WAYS = ("in", "out", "both")
GOING_BY = ("foot", "dropped-off", "boat")
USES = ("day", "night", "both")
HELD = ("day", "night", "always", "never")


@dataclass(frozen=True, slots=True)
class Swirls:
    """Winds in which the owner knows this seat swirls: both conditions hold."""

    from_deg: Ranges | None = None
    under_mph: float | None = None


@dataclass(frozen=True, slots=True)
class FeltTurn:
    """Winds that come from elsewhere at a seat than was told, as its owner felt them there."""

    from_deg: Ranges  # winds told
    turn_deg: float  # clockwise
    felt: int | None = None  # times that it turned that way
    of: int | None = None  # of so many
    since: str | None = None  # date


@dataclass(frozen=True, slots=True)
class Wanted:
    """How much the owner wants a stand; a part's word falls back to the stand's."""

    morning: str | None = None
    evening: str | None = None
    by_part: tuple[tuple[str, tuple[str | None, str | None]], ...] = ()  # name, (morning, evening)


@dataclass(frozen=True, slots=True)
class Stand:
    id: str
    name: str
    at: LonLat
    seat: str = "hang-on"
    height_ft: float = 16.0
    cover: str = "timber"
    range_yd: float = 30.0  # with any weapon that ranges_yd does not name
    lies: str = "flat"
    downhill_deg: float | None = None
    grade_pct: float | None = None
    swirls: Swirls | None = None
    turns: tuple[FeltTurn, ...] = ()
    wanted: Wanted = field(default_factory=Wanted)
    edge_ok: bool = False
    guest_ok: bool = False
    set_up_min: float = 0.0
    max_gust_mph: float | None = None
    closed: bool = False
    notes: str = ""
    done: DatesByKind = ()  # chores, and when each was last done
    ranges_yd: ByWeapon = ()


@dataclass(frozen=True, slots=True)
class Lane:
    """A path people use; the first vertex is at the truck."""

    id: str
    name: str
    line: Line
    stands: tuple[str, ...]
    way: str = "both"
    cover: str = "edge"
    footing: str | None = None
    minutes: float | None = None  # the owner's own time for the whole lane
    by: str = "foot"
    notes: str = ""
    done: DatesByKind = ()  # chores, and when each was last done


@dataclass(frozen=True, slots=True)
class Corridor:
    """A cleared path that deer travel; the first vertex is the bedding end."""

    id: str
    name: str
    line: Line
    width_ft: float = 3.0
    use: str = "both"
    cut_on: str | None = None
    sprayed_on: str | None = None
    checked_on: str | None = None
    notes: str = ""
    done: DatesByKind = ()  # chores, and when each was last done

    @property
    def brings_shot(self) -> bool:
        """Whether deer walk here when one may shoot: a trail of the night alone brings no shot."""
        return self.use != "night"


@dataclass(frozen=True, slots=True)
class Area:
    """Bedding or food: a ring without its closing vertex, and holes likewise."""

    id: str
    name: str
    kind: str  # bedding or food
    ring: Line
    holes: tuple[Line, ...] = ()
    held: str = "day"
    months: tuple[int, ...] = ALL_MONTHS
    with_wind_deg: Ranges = ALL_ROUND
    who: str | None = None
    notes: str = ""
    done: DatesByKind = ()  # chores, and when each was last done


@dataclass(frozen=True, slots=True)
class Mark:
    """Anything else that is drawn and named: boundary, no-shoot, draw, truck..."""

    id: str
    name: str
    kind: str
    geometry: str  # Point, LineString or Polygon
    points: Line
    holes: tuple[Line, ...] = ()
    notes: str = ""
    done: DatesByKind = ()  # chores, and when each was last done


@dataclass(frozen=True, slots=True)
class Closed:
    days: tuple[str, ...]  # Mon ... Sun
    from_time: str  # HH:MM local clock
    to_time: str


@dataclass(frozen=True, slots=True)
class Weapon:
    """What is hunted with, by the owner's own word; None: it has no range of its own."""

    name: str
    range_yd: float | None = None


@dataclass(frozen=True, slots=True)
class Season:
    weapon: str
    first: str  # MM-DD
    last: str
    before_sunrise_min: float = 30.0
    after_sunset_min: float = 30.0
    closed: tuple[Closed, ...] = ()
    orange: bool = False
    rule: str = ""
    checked_on: str | None = None


@dataclass(frozen=True, slots=True)
class Part:
    name: str
    first: str
    last: str
    rest_days: float = 3.0
    all_day: bool = False


@dataclass(frozen=True, slots=True)
class SitRules:
    morning_end: str = "10:30"
    evening_h: float = 3.5
    settle_min: float = 30.0
    gear_up_min: float = 10.0
    walk_mph: float = 1.5
    apart_yd: float = 150.0  # two hunters sit no nearer to each other
    pass_yd: float = 50.0  # nor does one walk nearer past another who sits
    out_stay_within_yd: float = 100.0  # a way out nearer than that keeps out; 0 never does
    spot_off_bed_yd: float = 60.0  # no spot for a next stand is given nearer to a bed
    spot_off_seat_yd: float = 60.0  # nor nearer to a seat that is there


@dataclass(frozen=True, slots=True)
class AirRules:
    wrong_within_yd: float = 250.0
    clean_beyond_yd: float = 500.0
    cant_call_below_mps: float = 1.3
    slope_wind_mps: float = 0.7
    slope_fades_at_mps: float = 5.4
    lee_deg: float = 15.0  # wind parts from a fall upwind so steep, where heights show one
    trail_within_yd: float = 75.0  # on a trail: under this, or
    trail_shot_times: float = 3.5  # under so many times the yards to it
    turn_min: int = 20  # on either side of the slope wind's turn
    turn_told_deg: float = 20.0  # a smaller swing is not told
    forecast_miss_times: float = 1.0  # forecasts miss so many times as far here as usual


@dataclass(frozen=True, slots=True)
class CriticismLimits:
    """What the criticism of a ground measures against; common practice, no source."""

    close_shot_yd: float = 10.0
    widest_ft: float = 3.0  # of a trail
    narrowest_ft: float = 2.0
    no_exit_over_yd: float = 300.0
    trail_within_yd: float = 50.0  # of a bed
    bed_acres: float = 10.0
    truck_off_bed_yd: float = 250.0
    walk_dark_yd: float = 60.0
    walk_day_yd: float = 100.0


@dataclass(frozen=True, slots=True)
class Person:
    name: str
    range_yd: float | None = 30.0  # with any weapon that ranges_yd does not name; None: no limit
    phone: str = ""
    ranges_yd: ByWeapon = ()
    beginner: bool = False
    climbs_ft: float | None = None  # sits no higher than that; None: any height


@dataclass(frozen=True, slots=True)
class Property:
    """A whole ground with its rules. Features keep the order of the file."""

    uid: str
    name: str
    timezone: str
    center: LonLat
    elevation_m: float = 0.0
    revision: int = 1
    saved_utc: str | None = None
    seasons: tuple[Season, ...] = ()
    parts: tuple[Part, ...] = ()
    sit: SitRules = field(default_factory=SitRules)
    air: AirRules = field(default_factory=AirRules)
    limits: CriticismLimits = field(default_factory=CriticismLimits)
    people: tuple[Person, ...] = ()
    work: WorkRules = field(default_factory=WorkRules)
    weapons: tuple[Weapon, ...] = ()
    accepted: tuple[str, ...] = ()
    stands: tuple[Stand, ...] = ()
    lanes: tuple[Lane, ...] = ()
    corridors: tuple[Corridor, ...] = ()
    areas: tuple[Area, ...] = ()
    marks: tuple[Mark, ...] = ()

    def stand(self, stand_id: str) -> Stand:
        """The stand of an id. Raises: KeyError."""
        for stand in self.stands:
            if stand.id == stand_id:
                return stand
        raise KeyError(stand_id)

    def name_of(self, feature_id: str) -> str:
        """The name of any feature, or its id where it has none."""
        for group in (self.stands, self.lanes, self.corridors, self.areas, self.marks):
            for feature in group:
                if feature.id == feature_id:
                    return feature.name or feature_id
        return feature_id
