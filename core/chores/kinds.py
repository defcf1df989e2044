"""The kinds of chores, each with what it is done to, when, and what it takes.

Which chores there are is common practice; no source.
"""

from collections.abc import Callable
from dataclasses import dataclass

from core.chores import windows as w
from core.ground.layout import Property

CUT, SPRAY, CHECK, TRIM, SHOTS, STRAPS, TREE, THICKET, CAMERA, SIGNS, WALK, PERMITS, RECORDS = (
    *("cut", "spray", "check", "trim", "shooting-lanes", "straps", "tree", "thicket"),
    *("camera", "signs", "walk-sign", "permits", "records"),
)
GEAR, OWN, JOB = "gear", "own", "job"
IN_TREES = ("hang-on", "ladder", "climber", "saddle")
LEFT_OUT_THERE = ("hang-on", "ladder", "tripod", "box")  # seats that stay out all year
SAW, HINGE, HERBICIDE, LADDER, TICKS, HEAT = (
    *("saw", "hinge", "herbicide", "ladder"),
    *("ticks", "heat"),
)
SAW_BAG = ("saw, fuel and oil", "helmet, eyes, ears, chaps", "wedge", "flagging")
HAND_BAG = ("loppers and hand saw", "gloves")
CLIMB_BAG = ("full-body harness, tied in from the ground", "haul line")


@dataclass(frozen=True, slots=True)
class ChoreKind:
    """One kind of chore.

    `features` gives the ids it is done to ("" for the ground as a whole), `windows` its
    windows in the year, `every` in how many years it is done once. `dated` is the member of
    a trail that keeps its date; all other kinds keep it under `done`.
    """

    name: str
    features: Callable[[Property], list[str]]
    windows: Callable[[Property], w.Windows]
    every: Callable[[Property], int] = lambda _: 1
    cautions: tuple[str, ...] = ()
    bring: tuple[str, ...] = ()
    dated: str = ""

    @property
    def saw(self) -> bool:
        """Whether it runs a saw, which is heard."""
        return SAW in self.cautions


def _trails(ground: Property) -> list[str]:
    return [c.id for c in ground.corridors]


def _ways(ground: Property) -> list[str]:
    return [lane.id for lane in ground.lanes]


def _seats(*kinds: str) -> Callable[[Property], list[str]]:
    return lambda ground: [s.id for s in ground.stands if not kinds or s.seat in kinds]


def _marks(*kinds: str) -> Callable[[Property], list[str]]:
    return lambda ground: [m.id for m in ground.marks if m.kind in kinds]


def _whole(ground: Property) -> list[str]:  # noqa: ARG001 (asked like the others)
    return [""]


def _with_season(ground: Property) -> list[str]:
    return [""] if ground.seasons else []


def _known_thickets(ground: Property) -> list[str]:
    known = {area.id for area in ground.areas}
    return [t.feature for t in ground.work.thickets if t.feature in known]


def winter(ground: Property) -> w.Windows:
    """When trails are cut. Args: the ground."""
    return w.window_here(ground, ground.work.winter, w.WINTER)


def summer(ground: Property) -> w.Windows:
    """When trails, straps and trees are looked at. Args: the ground."""
    return w.window_here(ground, ground.work.summer, w.SUMMER)


def trimming(ground: Property) -> w.Windows:
    """When ways in are trimmed: some weeks before the season. Args: the ground."""
    due_days = 7 * ground.work.trim_weeks_before
    return w.before_opener(ground, due_days + ground.work.trim_days, due_days)


def _permits(ground: Property) -> w.Windows:
    return w.before_opener(ground, w.PERMIT_DAYS, w.PERMIT_BY_DAYS)


def records(ground: Property) -> w.Windows:
    """When jaws are aged and the records put in order. Args: the ground."""
    return w.window_here(ground, ground.work.records, w.RECORDS)


KINDS = {
    kind.name: kind
    for kind in (
        ChoreKind(
            CUT,
            _trails,
            winter,
            lambda g: g.work.cut_every_years,
            (SAW, HINGE),
            SAW_BAG,
            "cut_on",
        ),
        ChoreKind(
            SPRAY,
            _trails,
            w.after_leaf_out,
            lambda g: g.work.spray_every_years,
            (HERBICIDE, TICKS, HEAT),
            ("sprayer, water, gloves, eyes", "the label", "a wind meter"),
            "sprayed_on",
        ),
        ChoreKind(CHECK, _trails, summer, lambda _: 1, (TICKS, HEAT), HAND_BAG, "checked_on"),
        ChoreKind(TRIM, _ways, trimming, lambda _: 1, (SAW, TICKS, HEAT), HAND_BAG),
        ChoreKind(
            SHOTS, _seats(), trimming, lambda _: 1, (SAW, LADDER, TICKS), ("pole saw", *HAND_BAG)
        ),
        ChoreKind(
            STRAPS,
            _seats(*LEFT_OUT_THERE),
            summer,
            lambda _: 1,
            (LADDER, TICKS),
            ("new straps", "wrenches", *CLIMB_BAG),
        ),
        ChoreKind(
            TREE, _seats(*IN_TREES), summer, lambda _: 1, (LADDER, TICKS), ("field glasses",)
        ),
        ChoreKind(THICKET, _known_thickets, winter, lambda _: 1, (SAW, HINGE), SAW_BAG),
        ChoreKind(
            SIGNS, _marks("sign", "boundary"), trimming, lambda _: 1, (TICKS,), ("signs, nails",)
        ),
        ChoreKind(WALK, _whole, winter, bring=("flagging",)),
        ChoreKind(PERMITS, _with_season, _permits),
        ChoreKind(RECORDS, _whole, records),
    )
}
PLOT_CAUTIONS = (TICKS, HEAT)
CAMERA_BAG = ("cards and batteries",)
