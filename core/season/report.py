"""What a season review comes to, as values: shares of sits by stand, sit, month and wind.

Shares are fractions from 0 to 1, not rounded; None where there is no sit to share.
`core.say` tells and writes them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from core.angles import HALF_WIDTH_16_DEG, POINT_WIDTH_DEG, POINTS_16
from core.season.gaps import Hole, holes, sit_winds, smallest_set
from core.season.left_over import NO_WIND, LeftOver, left_over
from core.season.next_stand import NextStand
from core.season.one_stand import BY_CALM, BY_OTHER, BY_SIT, BY_WAY, OFF_SIT, OFF_TRAIL
from core.season.review import SeasonAnswer, SitsReview, land_notes
from core.season.saw_work import Job, lost_to_ways
from core.sit.verdicts import CANT, GO, STAY


@dataclass(frozen=True, slots=True)
class Shares:
    """How many sits, and which share of them falls into each group."""

    sits: int
    go: float | None
    cant_call: float | None
    stay_out: float | None


@dataclass(frozen=True, slots=True)
class YearSpread:
    """How a share of go differs between years."""

    years: int
    lowest_go: float
    highest_go: float


@dataclass(frozen=True, slots=True)
class WhyOut:
    """Shares of all sits that are not go, by what keeps the stand out."""

    sit: float | None
    way_in: float | None
    calm: float | None
    other: float | None


@dataclass(frozen=True, slots=True)
class NotClean:
    """Shares of all sits that are go and not clean, by what makes them so."""

    sit: float | None
    trail: float | None


@dataclass(frozen=True, slots=True)
class HourCounts:
    """How many hours have each verdict."""

    clean: int
    just_off: int
    cant_call: int
    wrong: int


@dataclass(frozen=True, slots=True)
class StandReport:
    """What a season holds for one stand; `by_month` in the order of the season."""

    id: str
    name: str
    whole: Shares
    by_sit: Mapping[str, Shares]
    by_month: Mapping[int, Mapping[str, Shares]]
    years: YearSpread | None  # None for one year
    why_out: WhyOut
    not_clean: NotClean
    hours: HourCounts
    only_stand_sits: int


@dataclass(frozen=True, slots=True)
class SomeStand:
    """How many sits of a kind, and the share of them in which some stand is go."""

    sits: int
    some_stand_go: float | None


@dataclass(frozen=True, slots=True)
class WindLeaves:
    """How many sits of one wind leave no stand, one, two, or more."""

    wind: str  # one of 16 points, or NO_WIND
    sits: int
    none: int
    one: int
    two: int
    more: int


@dataclass(frozen=True, slots=True)
class GroundReport:
    """What a season holds for all stands together."""

    sits: int
    sits_without_wind: int
    days_without_sun: int
    some_stand_go: float | None
    years: YearSpread | None  # None for one year
    watch_seats: tuple[str, ...]  # ids
    by_sit: Mapping[str, SomeStand]
    left: tuple[WindLeaves, ...]
    holes: tuple[Hole, ...]
    smallest_set: tuple[str, ...]  # ids
    without_stand: LeftOver

    @property
    def sits_had(self) -> list[str]:
        """Mornings, evenings or both: those of which the history has any."""
        return [sit for sit, some in self.by_sit.items() if some.sits]


@dataclass(frozen=True, slots=True)
class SeasonReport:
    """The whole review; `ways_in` are ids of stands and the sits lost to their way in alone."""

    property_name: str
    history: str
    notes: tuple[str, ...]  # what a reader noted of the history; how the heights are used
    years: tuple[int, ...]  # none of a typical year
    one_year: bool
    stands: tuple[StandReport, ...]
    ground: GroundReport
    next_stands: tuple[NextStand, ...]
    ways_in: tuple[tuple[str, int], ...]
    jobs: tuple[Job, ...]
    at_most: bool = False  # modelled wind: too few still mornings, so shares of go are upper ends


@dataclass(frozen=True, slots=True)
class Beside:
    """A stand's share of go by modelled and by measured wind, never blended."""

    name: str
    at_most: float | None
    measured: float | None


def beside(modelled: SeasonReport, measured: SeasonReport) -> list[Beside]:
    """The stands of two reports of one ground, each with both shares of go.

    Args: the report of modelled wind; that of measured wind.
    """
    other = {stand.id: stand.whole.go for stand in measured.stands}
    rows = [Beside(s.name, s.whole.go, other.get(s.id)) for s in modelled.stands]
    return sorted(rows, key=lambda row: -(row.measured or 0.0))


def season_report(
    answer: SeasonAnswer, next_stands: Sequence[NextStand] = (), jobs: Sequence[Job] = ()
) -> SeasonReport:
    """What a review comes to.

    Args: the answer; next stands (`core.season.next_stand`); winter jobs (`saw_work`).
    """
    return SeasonReport(
        property_name=answer.scene.ground.name,
        history=answer.weather.source or answer.weather.format,
        notes=(*answer.weather.notes, *land_notes(answer.scene)),
        years=() if answer.weather.kind == "typical" else tuple(answer.years),
        one_year=answer.one_year,
        stands=tuple(stand_report(answer, i) for i in range(len(answer.stands))),
        ground=_ground_report(answer),
        next_stands=tuple(next_stands),
        ways_in=tuple(lost_to_ways(answer)),
        jobs=tuple(jobs),
        at_most=answer.weather.kind == "modelled",
    )


def shares(group) -> Shares:
    """Number of sits and share of each group. Args: groups of some sits."""
    group = np.asarray(group)
    return Shares(len(group), share(group == GO), share(group == CANT), share(group == STAY))


def share(mask) -> float | None:
    """The share of sits for which something holds. Args: truth of each sit."""
    return float(np.mean(mask)) if len(mask) else None


def why_out(out) -> WhyOut:
    """What keeps a stand out, as shares. Args: what keeps it out in each sit."""
    return WhyOut(*(share(np.asarray(out) == by) for by in (BY_SIT, BY_WAY, BY_CALM, BY_OTHER)))


def stand_report(answer: SeasonAnswer, index: int) -> StandReport:
    """What a season holds for one stand. Args: the answer; the stand's place in it."""
    stand, by_half = answer.stands[index], [h.by_stand[index] for h in answer.reviews]
    out, off = (np.concatenate([getattr(s, name) for s in by_half]) for name in ("out", "off"))
    only = answer.serves[:, index] & (answer.serves.sum(axis=1) == 1)
    return StandReport(
        id=stand.id,
        name=stand.name,
        whole=shares(np.concatenate([s.group for s in by_half])),
        by_sit={h.sit: shares(h.by_stand[index].group) for h in answer.reviews},
        by_month={month: _of_month(answer, index, month) for month in month_order(answer)},
        years=year_spread(answer, answer.go[:, index]),
        why_out=why_out(out),
        not_clean=NotClean(share(off == OFF_SIT), share(off == OFF_TRAIL)),
        hours=HourCounts(*np.rint(np.sum([s.hours for s in by_half], axis=0)).astype(int).tolist()),
        only_stand_sits=int(only.sum()),
    )


def _of_month(answer: SeasonAnswer, index: int, month: int) -> dict[str, Shares]:
    return {h.sit: shares(h.by_stand[index].group[h.month == month]) for h in answer.reviews}


def month_order(answer: SeasonAnswer) -> list[int]:
    """The months of the season from its first on. Args: the answer."""
    dates = answer.reviews[0].sits.clock.dates
    steps = dates.date.astype("datetime64[M]").astype(np.int64) - (dates.year - 1970) * 12
    return [int(s) % 12 + 1 for s in np.unique(steps)]


def year_spread(answer: SeasonAnswer, go) -> YearSpread | None:
    """Lowest and highest share of go of the years; None for one year.

    Args: the answer; whether each of its sits is go.
    """
    if answer.one_year:
        return None
    year = np.concatenate([h.year for h in answer.reviews])
    each = [float(go[year == y].mean()) for y in answer.years]
    return YearSpread(len(each), min(each), max(each))


def _ground_report(answer: SeasonAnswer) -> GroundReport:
    some = np.asarray(answer.serves.any(axis=1))
    return GroundReport(
        sits=answer.n_sits,
        sits_without_wind=answer.unknown,
        days_without_sun=answer.sunless,
        some_stand_go=share(some),
        years=year_spread(answer, some),
        watch_seats=tuple(watch_seats(answer)),
        by_sit={h.sit: _some_stand(h) for h in answer.reviews},
        left=tuple(left_by_wind(answer)),
        holes=tuple(holes(answer)),
        smallest_set=tuple(smallest_set(answer)),
        without_stand=left_over(answer),
    )


def _some_stand(review: SitsReview) -> SomeStand:
    return SomeStand(len(review.sits), share(review.serves.any(axis=1)))


def left_by_wind(answer: SeasonAnswer) -> list[WindLeaves]:
    """How often each of 16 winds, and calm, leaves no stand, one, two or more.

    Args: the answer. Returns: a row a wind, north first, then calm and variable.
    """
    count = np.minimum(answer.serves.sum(axis=1), 3)
    direction, _ = sit_winds(answer)
    point = np.full(len(count), len(POINTS_16))
    known = ~np.isnan(direction)
    point[known] = ((direction[known] + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG).astype(int) % 16
    rows = []
    for i, wind in enumerate((*POINTS_16, NO_WIND)):
        here = count[point == i]
        rows.append(WindLeaves(wind, len(here), *(int((here == n).sum()) for n in range(4))))
    return rows


def watch_seats(answer: SeasonAnswer) -> list[str]:
    """Ids of stands that the owner only watches from all season; they fill no hole.

    Args: the answer.
    """
    by_half = [[own.watch.all() for own in h.by_stand] for h in answer.reviews]
    return [s.id for s, *watch in zip(answer.stands, *by_half, strict=True) if all(watch)]
