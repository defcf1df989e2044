"""The kinds of reasons why a stand stands where it does, each a value.

`reasons` finds them, `words` says them. Whoever wants only some of them chooses by their
kind, never by their words. Places are ids of the property; instants are epoch seconds.
"""

import enum
from dataclasses import dataclass
from typing import TYPE_CHECKING

from core.judge import stand as a

if TYPE_CHECKING:
    from core.land.still_words import StillAir as Way

# causes that keep a hunter out whatever his air does at the seat
KEEP_OUT = (
    *(a.OUT_OF_SEASON, a.NO_MINUTES, a.IS_CLOSED, a.NOT_NOW),
    *(a.IS_TAKEN, a.GUST, a.STRONG, a.STORM, a.NO_WAY),
)


class Fact(enum.Enum):
    """Reasons that need no more than their name."""

    LOW_SHARE = enum.auto()  # the air is good for less than half of the sit
    NOTHING_REACHED = enum.auto()
    NO_WAY_OUT = enum.auto()
    ENDS_EARLY = enum.auto()  # an all-day sit, when it is time to be down
    SETTLES_LATE = enum.auto()  # right after a wrong hour
    NO_CLOUD = enum.auto()
    NO_LOG = enum.auto()


@dataclass(frozen=True, slots=True)
class KeptOut:
    """What keeps a hunter out: one of KEEP_OUT."""

    cause: str
    hunter: str = ""  # who sits there
    limit_mph: float = 0.0  # of wind and gusts at the seat


@dataclass(frozen=True, slots=True)
class AirAt:
    """A place that the air of an hour reaches, and how strongly; NaN where it may go any way.

    `free_trail`, `free_end`: of a trail that the air is on in an hour that is not wrong, what
    is free of it: another trail, or the same from one end.
    """

    start_s: int
    place: str
    like_yd: float
    is_trail: bool = False
    on_it: bool = False  # of a trail: on it, not only past it
    free_trail: str = ""
    free_end: str = ""


@dataclass(frozen=True, slots=True)
class AirReaches:
    """The first hour of a verdict, by the place that makes it so."""

    verdict: int
    first: AirAt
    worse: AirAt | None  # a later hour in which the air is much stronger
    is_short: bool  # the hour decides nothing


@dataclass(frozen=True, slots=True)
class CantCall:
    """Times that can't be called, the first to the last of them, and why."""

    start_s: int
    end_s: int
    minutes: int
    of_minutes: int
    causes: tuple[int, ...]  # as `core.judge.causes` counts them, the first one's first
    place: str  # what the air may or may not reach; "" where no air is known


@dataclass(frozen=True, slots=True)
class AnyWay:
    """Air that may go any way, and makes no difference by it."""

    causes: tuple[int, ...]  # as `core.judge.causes` counts them
    verdict: int  # the worst of those times


@dataclass(frozen=True, slots=True)
class Side:
    """Where air goes for a while, as on one side of a turn, and what the hours are then."""

    start_s: int
    end_s: int
    air_to_deg: float
    climbs: bool | None  # None where it goes along the slope
    verdict: int


@dataclass(frozen=True, slots=True)
class StillAirGoes:
    """Where still air likely goes, a side for each way."""

    sides: tuple[Side, ...]


@dataclass(frozen=True, slots=True)
class OverLand:
    """The way that air slides over the land, from and until when in the sit; None: all of it.

    `like_yd`: how strongly it reaches the places that it meets, by id.
    """

    start_s: int | None
    end_s: int | None
    way: "Way"
    like_yd: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class SlopeTurn:
    """When the air turns with the slope wind; a side is None outside the sit."""

    before: Side | None
    start_s: int
    end_s: int
    after: Side | None
    verdict: int
    begun: bool = False  # before the sit


@dataclass(frozen=True, slots=True)
class SmallTurn:
    """The slope wind turns, and that swings the air by too little to tell where."""

    at_s: int


@dataclass(frozen=True, slots=True)
class NothingInRange:
    """No day trail and no food lies within range of the seat."""

    range_yd: float


@dataclass(frozen=True, slots=True)
class AirOnTrail:
    """Air on the part of a trail before the shot, or just past it.

    `end`, `free_end`: the ends that deer come from there, and from where it is clear;
    "" where all ends are alike.
    """

    place: str
    like_yd: float
    on_it: bool
    end: str = ""
    free_end: str = ""


@dataclass(frozen=True, slots=True)
class Walk:
    """A way in or out and its air: the place that gets most, "" where none does.

    `crossed`: trails that it crosses before the shot, where these alone make it just-off.
    """

    way: str
    lane: str  # as it is called
    verdict: int
    place: str
    like_yd: float
    crossed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WayCrosses:
    """The trails that the way in crosses."""

    places: tuple[str, ...]
    before_shot: bool


@dataclass(frozen=True, slots=True)
class BeDown:
    """When to be down, before the wind goes wrong."""

    at_s: int


@dataclass(frozen=True, slots=True)
class NotBefore:
    """The soonest to be seated."""

    at_s: int


@dataclass(frozen=True, slots=True)
class ShortHour:
    """An hour with too few minutes inside the sit to decide anything."""

    start_s: int
    minutes: int


@dataclass(frozen=True, slots=True)
class NotJudged:
    """A piece of the sit that closed hours part off."""

    start_s: int
    end_s: int


@dataclass(frozen=True, slots=True)
class RestedSince:
    """Since when the stand has rested, by the log."""

    days: int | None  # None: the log has no sit of it
    weighs: bool  # whether that, or something near it, still counts in the order


@dataclass(frozen=True, slots=True)
class AsFelt:
    """That a wind is judged as it was felt at the stand: a turn that its owner took up."""

    told_deg: float  # the first wind that is turned
    turn_deg: float  # clockwise
    always: bool  # in every hour


Reason = (
    Fact
    | AsFelt
    | KeptOut
    | AirReaches
    | CantCall
    | AnyWay
    | StillAirGoes
    | OverLand
    | SlopeTurn
    | SmallTurn
    | NothingInRange
    | AirOnTrail
    | Walk
    | WayCrosses
    | BeDown
    | NotBefore
    | ShortHour
    | NotJudged
    | RestedSince
)
