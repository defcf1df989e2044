"""What a map is to bring out, and how much of the ground that takes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from core.angles import point_name
from core.answer.one_sit import StandSit, place_ids
from core.answer.reached import (
    LITTLE_TIMES,
    SOME,
    air_way_m,
    how_much,
    reached_places,
    telling_case,
    way_over_land_m,
)
from core.say.words import at_time, like_text, wind_words
from core.show.canvas import Box
from core.sit.prepare import Sit
from core.sit.scene import Scene
from core.sit.ways import MOST_SHOWN_YD

Floats = npt.NDArray[np.float64]
LEAST_SPAN_M = 180.0
ROOM = 1.1  # of the ground's own length, so that nothing lies at the rim
WHOLE_UP_TO = 4.0  # the whole ground is shown where it is no more than this many times as wide
FLATTEST, TALLEST = 0.8, 1.15  # height over width


@dataclass(frozen=True)
class Emphasis:
    """What a map brings out. Lines in local metres; ids are those of the property."""

    stand: str | None = None
    way_in_m: Floats | None = None
    way_out_m: Floats | None = None
    air_way_m: Floats | None = None  # the way of the air, from the stand; shape (point, 2)
    reached: Mapping[str, str] = field(default_factory=dict)  # what to write below the name
    much: Mapping[str, int] = field(default_factory=dict)  # how much reaches each of them
    on_trail_m: Mapping[str, Sequence[Floats]] = field(default_factory=dict)  # its part reached
    noted: Mapping[str, str] = field(default_factory=dict)  # words below a name, without a hatch
    named: frozenset[str] = frozenset()  # places that the words beside the map tell of
    marks: Mapping[str, int] = field(default_factory=dict)  # verdicts, by stand
    spots: Sequence[tuple[float, float, str]] = ()  # east, north [m], words
    of_spots: frozenset[str] = frozenset()  # ids of what those words name: named there alone
    air_to_deg: float | None = None
    beside_arrow: tuple[str, str] = ("", "")  # words by the arrow of the air
    whole: bool = False  # the whole ground, however large
    # ways of still air, each with its doubts; shapes (point, 2)
    still_ways_m: Sequence[tuple[Floats, Sequence[Floats]]] = ()
    pools_m: Sequence[Floats] = ()  # outlines of low ground where still air lies

    def how_much(self, name: str) -> int:
        """How much reaches a place. Args: its id, one of `reached`."""
        return self.much.get(name, SOME)


def emphasis_of(sit: Sit, seat: StandSit) -> Emphasis:
    """What the map of a sit brings out. Args: the sit; the stand in it."""
    case = telling_case(seat)
    way_in, way_out = (None if w is None else w.way.path_m for w in (seat.way_in, seat.way_out))
    if case is None:
        return Emphasis(seat.stand.id, way_in, way_out)
    air, row = seat.hours.air, int(seat.hours.air.row[case])
    at_m = sit.scene.stands_m[sit.scene.index(seat.stand)]
    goes, clean_yd = float(air.air_to_deg[case]), sit.scene.ground.air.clean_beyond_yd
    clock = at_time(sit, int(seat.rows.start_s[case]))
    reached = reached_places(sit, seat, case, LITTLE_TIMES)
    return Emphasis(
        stand=seat.stand.id,
        way_in_m=way_in,
        way_out_m=way_out,
        air_way_m=at_m + air_way_m(air, case, clean_yd, way_over_land_m(sit, seat, case)),
        reached={r.id: f"like {like_text(r.equivalent_yd)}" for r in reached},
        much={r.id: how_much(sit, r.equivalent_yd) for r in reached},
        on_trail_m=_on_trails(sit, seat, case),
        named=_told_of(sit, seat),
        air_to_deg=goes,
        beside_arrow=(
            f"{clock}: wind {wind_words(sit.rows.weather, row)}",
            "your air has no one way" if np.isnan(goes) else f"your air goes {point_name(goes)}",
        ),
    )


def _on_trails(sit: Sit, seat: StandSit, case: int) -> dict[str, list[Floats]]:
    """Per trail in range, the parts that are walked before the shot in an hour."""
    ends = sit.ends_at(int(seat.rows.start_s[case]))
    parts = sit.scene.before_shot(seat.stand, seat.range_yd, ends)
    return {name: list(np.stack([zone.a_m, zone.b_m], axis=1)) for name, zone in parts.items()}


def _told_of(sit: Sit, seat: StandSit) -> frozenset[str]:
    """Places of which the table beside a map says how much reaches them."""
    like = np.where(seat.hours.counts, seat.hours.equivalent_yd, np.inf)
    near = np.nan_to_num(like, nan=0.0).min(axis=0, initial=np.inf) <= MOST_SHOWN_YD
    return frozenset(np.array(place_ids(sit, seat), object)[near].tolist())


def described(scene: Scene, emphasis: Emphasis) -> str:
    """The map in words, for those who do not see it. Args: as `property_map`."""
    parts = [f"Map of {scene.ground.name}"]
    if emphasis.stand:
        parts.append(f"stand {scene.ground.name_of(emphasis.stand)}")
    parts += [text for text in emphasis.beside_arrow if text]
    told = {**emphasis.reached, **emphasis.noted}
    parts += [f"{scene.ground.name_of(k)} {v}".strip() for k, v in told.items()]
    return "; ".join(parts) + "."


def view_box(
    scene: Scene, emphasis: Emphasis, flattest: float = FLATTEST, tallest: float = TALLEST
) -> Box:
    """The part of the ground that a map shows, in local metres.

    Args: as `property_map`; height over width, at least and at most.
    Returns: left, bottom, right, top; the whole ground where it is not very much wider
    than what is brought out, the way to it and the places that the words tell of.
    """
    everything = _everything_m(scene)
    if not len(everything):
        everything = np.zeros((1, 2))
    near = _near_m(scene, emphasis)
    whole = _framed(everything, flattest, tallest)
    if near is None or emphasis.whole:
        return whole
    close = _framed(near, flattest, tallest)
    return whole if whole[2] - whole[0] <= WHOLE_UP_TO * (close[2] - close[0]) else close


def _everything_m(scene: Scene) -> Floats:
    points = scene.plane.points
    parts = [scene.stands_m.reshape(-1, 2), *scene.corridors_m.values()]
    parts += [points(lane.line) for lane in scene.ground.lanes]
    parts += [points(area.ring) for area in scene.areas]
    parts += [points(m.points) for m in scene.ground.marks]
    return (
        np.vstack([p for p in parts if len(p)]) if any(len(p) for p in parts) else np.empty((0, 2))
    )


def _near_m(scene: Scene, emphasis: Emphasis) -> Floats | None:
    if emphasis.stand is None:
        return None
    told = emphasis.named | set(emphasis.reached) | set(emphasis.noted)
    parts = [p for p in (emphasis.way_in_m, emphasis.way_out_m) if p is not None]
    parts.append(scene.stands_m[scene.index(scene.ground.stand(emphasis.stand))][None, :])
    for area, polygon in zip(scene.areas, scene.polygons, strict=True):
        if area.id in told:
            parts.append(np.asarray(polygon.exterior.coords)[:, :2])
    parts += [line for name, line in scene.corridors_m.items() if name in told]
    return np.vstack(parts)


def _framed(points_m: Floats, flattest: float, tallest: float) -> Box:
    """A box round points with some air, no flatter and no taller than a screen likes."""
    low, high = points_m.min(axis=0), points_m.max(axis=0)
    middle = (low + high) / 2
    wide, tall = np.maximum((high - low) * ROOM, LEAST_SPAN_M)
    wide = max(wide, tall / tallest)
    tall = min(max(tall, wide * flattest), wide * tallest)
    return (middle[0] - wide / 2, middle[1] - tall / 2, middle[0] + wide / 2, middle[1] + tall / 2)
