"""The answer: which stand, which way, and why, for one date, sit and wind.

`answer_sit` puts the rooms together. Numbers stay unrounded here; `report` and
`words` round and say them.
"""

import datetime
from dataclasses import dataclass, field

import numpy as np

from core.angles import mean_direction_deg
from core.errors import BadRequest, NoForecast
from core.ground.layout import Person, Stand
from core.sits.before import BEDDING_END, FOOD_END
from core.sits.clock import ALL_DAY, EVENING, MORNING, SitClock, sit_clock
from core.sits.exposure import StandHours, stand_hours
from core.sits.rank import (
    STRONG_WIND_MPS,
    WANTED_SHARE,
    WAY_IN_SHARE,
    WAY_IN_WRONG_SHARE,
    WAY_OUT_SHARE,
    Judged,
    hour_value,
    in_order,
    judge_sit,
    leave_by_s,
    opens_s,
    rest_share,
)
from core.sits.rows import Rows, SlopeRows, make_rows, slope_rows, stand_air
from core.sits.scene import IN, OUT, Scene
from core.sits.verdicts import CANT, CANT_CALL, STAY, WRONG
from core.sits.ways import WayAir, choose_way, judge_way
from core.units import MPS_PER_MPH, SECONDS_PER_HOUR, SECONDS_PER_MINUTE
from core.weather.hours import MISSING, Hours

UNSET_WANTED, UNSET_WATCH = 0.7, 0.4  # common practice, no source
# why a stand is out, in the order in which they are said
OUT_OF_SEASON, NO_MINUTES, IS_CLOSED, NOT_NOW, IS_TAKEN = (
    "season", "closed-hours", "closed", "not-now", "taken",
)  # fmt: skip
GUST, STRONG, WAY_IN, PRIME_HOUR, AIR_SHARE, NO_WAY = (
    "gust", "strong-wind", "way-in", "prime-hour", "air-share", "no-way",
)  # fmt: skip


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
    def mean_wind_deg(self) -> float:
        """Unit-vector mean of the window's directed hours; NaN without."""
        return mean_direction_deg(self.rows.weather.wind_from_deg[self.window])


@dataclass(frozen=True, eq=False)
class StandSit:
    """One stand in one sit."""

    stand: Stand
    range_yd: float
    corridors: tuple[str, ...]
    hours: StandHours
    slope: SlopeRows | None
    judged: Judged
    group: int
    verdict: int
    causes: tuple[str, ...]
    wanted: str | None
    seated_s: int
    leave_by_s: int | None
    not_before_s: int | None
    way_in: WayAir | None
    way_out: WayAir | None
    leave_truck_s: int | None
    rest: float
    rank: int = 0
    score: float = 0.0
    taken_by: str = ""
    extra: dict = field(default_factory=dict)

    @property
    def air_share(self) -> float:
        return float(self.judged.air_share[0])


@dataclass(frozen=True, eq=False)
class SitAnswer:
    """A whole answer; `stands` in order, best first."""

    sit: Sit
    stands: tuple[StandSit, ...]

    @property
    def best(self) -> StandSit | None:
        return self.stands[0] if self.stands else None


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
    return weather.held or bool(np.isin(clock.row_start_s, weather.start_s).any())


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
        return stand_hours(sit.scene, rows, stand, slope, air, range_yd,
                           kinds[0] if kinds else (FOOD_END,))  # fmt: skip
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


def stand_sit(sit: Sit, stand: Stand, taken_by: str = "") -> StandSit:
    """Judges one stand in the forecast's own wind."""
    clock, rows = sit.clock, sit.rows
    slope = slope_rows(rows, stand)
    hours = window_hours(sit, stand, slope)
    value = hour_value(hours.verdict, hours.still, stand.edge_ok)
    judged = judge_sit(clock, hours.verdict[None, :], value[None, :])
    seated, opens = seated_s(sit, stand, judged)
    way_in = choose_way(judge_ways_in(sit, stand, seated))
    ends_s = leave_by_s(clock, judged) or clock.end_s or clock.legal_end_s
    way_out = choose_way(
        [judge_way(sit.scene, rows, w, ends_s) for w in sit.scene.ways(stand, OUT)]
    )
    causes = _causes(sit, stand, judged, way_in, way_out, taken_by)
    air_only = int(judged.air_verdict[0])
    group, verdict = _group(judged, causes)
    if group == STAY and not set(causes) & {PRIME_HOUR, AIR_SHARE, WAY_IN}:
        verdict = CANT_CALL if NO_WAY in causes and air_only != WRONG else air_only
    wanted = wanted_word(stand, clock)
    leave = None
    if way_in is not None:
        leave = int(way_in.start_s)
    return StandSit(
        stand=stand, range_yd=sit.range_yd(stand),
        corridors=sit.scene.corridors_in_range(stand, sit.range_yd(stand)),
        hours=hours, slope=slope, judged=judged, group=group, verdict=verdict, causes=causes,
        wanted=wanted, seated_s=seated, leave_by_s=leave_by_s(clock, judged),
        not_before_s=opens, way_in=way_in, way_out=way_out, leave_truck_s=leave,
        rest=rest_share(), taken_by=taken_by,
    )  # fmt: skip


def seated_s(sit: Sit, stand: Stand, judged: Judged, case: int = 0) -> tuple[int, int | None]:
    """When the hunter is seated, and the "not before" behind it where there is one."""
    opens = opens_s(sit.clock, judged, case)
    if opens is None:
        return sit.clock.seated_s, None
    not_before = opens + round(stand.set_up_min * SECONDS_PER_MINUTE)
    return not_before, not_before


def judge_ways_in(sit: Sit, stand: Stand, seated: int, wind_from_deg=None) -> list[WayAir]:
    """Every way in, so timed that the hunter is set up when seated."""
    range_yd, ends = sit.range_yd(stand), sit.ends_at(seated)
    judged = []
    for way in sit.scene.ways(stand, IN):
        start = seated - SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)
        crossed = sit.scene.crosses_before_shot(way, stand, range_yd, ends)
        judged.append(judge_way(sit.scene, sit.rows, way, start, wind_from_deg, crossed))
    return judged


def wanted_word(stand: Stand, clock: SitClock) -> str | None:
    """The owner's word for a stand in this sit and part; all day takes the lower."""
    by_part = dict(stand.wanted.by_part).get(clock.part.name) if clock.part else None
    morning, evening = by_part or (None, None)
    morning, evening = morning or stand.wanted.morning, evening or stand.wanted.evening
    if clock.sit == MORNING:
        return morning
    if clock.sit == EVENING:
        return evening
    order = ("best", "good", "watch", "not-now")
    return max((w for w in (morning, evening) if w), key=order.index, default=None)


def too_windy(sit: Sit, stand: Stand, rows_used) -> tuple[str, ...]:
    """Whether gusts or the mean wind rule out a seat over some rows."""
    weather, found = sit.rows.weather, []
    rows_used = np.asarray(rows_used, int)
    gusts = np.nan_to_num(weather.gust_mps[rows_used])
    if stand.max_gust_mph is not None and (gusts > stand.max_gust_mph * MPS_PER_MPH + 1e-9).any():
        found.append(GUST)
    strong = (sit.rows.speed_mps[rows_used] >= STRONG_WIND_MPS).any()
    if stand.height_ft > 0 and strong:
        found.append(STRONG)
    return tuple(found)


def wind_rows(sit: Sit, judged: Judged, ways, case: int = 0):
    """Rows that the wind limits look at: the stretch, or the window, and the walks."""
    own = np.arange(len(sit.rows.start_s))[sit.window]
    stretch = own if judged.empty[case] else own[judged.stretch[case]]
    return np.unique(np.concatenate([stretch, *(w.rows for w in ways if w is not None)]))


def _causes(sit: Sit, stand: Stand, judged, way_in, way_out, taken_by) -> tuple[str, ...]:
    found = []
    if sit.clock.outside:
        found.append(OUT_OF_SEASON)
    if sit.clock.start_s is None:
        found.append(NO_MINUTES)
    if stand.closed:
        found.append(IS_CLOSED)
    if wanted_word(stand, sit.clock) == "not-now":
        found.append(NOT_NOW)
    if taken_by:
        found.append(IS_TAKEN)
    found += too_windy(sit, stand, wind_rows(sit, judged, (way_in, way_out)).astype(int))
    if judged.wrong_prime[0]:
        found.append(PRIME_HOUR)
    if way_in is not None and way_in.verdict[0] == WRONG:
        found.append(WAY_IN)
    if judged.low_share[0] and sit.clock.start_s is not None:
        found.append(AIR_SHARE)
    if way_in is None:
        found.append(NO_WAY)
    return tuple(found)


def _group(judged: Judged, causes: tuple[str, ...]) -> tuple[int, int]:
    if set(causes) - {NO_WAY}:
        return STAY, WRONG
    if judged.air_group[0] == CANT or NO_WAY in causes:
        return CANT, CANT_CALL
    return int(judged.air_group[0]), int(judged.air_verdict[0])


def answer_sit(sit: Sit, taken: dict[str, str] | None = None) -> SitAnswer:
    """Judges and orders every stand of a sit.

    Args: `taken`: names of the hunters who sit elsewhere, by stand id; a stand
    taken by the hunter of this sit is not taken.

    Raises: BadRequest for a taken stand that the property lacks.
    """
    taken = taken or {}
    ground = sit.scene.ground
    known = {s.id for s in ground.stands}
    for stand_id in taken:
        if stand_id not in known:
            raise BadRequest(
                f"no stand has the id '{stand_id}'", "the stands taken", "Use a stand's id."
            )
    me = sit.hunter.name.casefold() if sit.hunter else None
    others = {k: v for k, v in taken.items() if v.casefold() != me}
    judged = [stand_sit(sit, s, others.get(s.id, "")) for s in ground.stands]
    return SitAnswer(sit, tuple(_ordered(sit, judged)))


def _ordered(sit: Sit, stands: list[StandSit]) -> list[StandSit]:
    import dataclasses

    last = {IS_CLOSED, NOT_NOW, IS_TAKEN}
    scores = [_score(sit, s) for s in stands]
    ordered: list[StandSit] = []
    for group in (0, 1, 2):
        for at_end in (False, True):
            members = [
                (scores[i], len(s.corridors), s.rest, s.stand.name, s.stand.id, i)
                for i, s in enumerate(stands)
                if s.group == group and bool(set(s.causes) & last) == at_end
            ]
            ordered += [stands[i] for i in in_order(members)]
    return [
        dataclasses.replace(s, rank=i + 1, score=scores[stands.index(s)])
        for i, s in enumerate(ordered)
    ]


def _score(sit: Sit, s: StandSit) -> float:
    """Air x way x wanted x rest. It only orders; it is never shown as a number."""
    way_in = CANT_CALL if s.way_in is None else int(s.way_in.verdict[0])
    way_out = CANT_CALL if s.way_out is None else int(s.way_out.verdict[0])
    share_in = WAY_IN_SHARE[way_in]
    if s.group == STAY and way_in == WRONG:
        share_in = WAY_IN_WRONG_SHARE
    air = s.judged.window_share[0] if s.group == STAY else s.judged.air_share[0]
    return float(air * share_in * WAY_OUT_SHARE[way_out] * _wanted_share(sit, s) * s.rest)


def _wanted_share(sit: Sit, s: StandSit) -> float:
    if s.wanted is not None:
        return WANTED_SHARE[s.wanted]
    food = sit.clock.sit == EVENING and sit.scene.food_in_range(s.stand, s.range_yd)
    return UNSET_WANTED if s.corridors or food else UNSET_WATCH


