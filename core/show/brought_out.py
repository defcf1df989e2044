"""What a map is to bring out, and how much of the ground that takes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from core.angles import point_name
from core.answer.one_sit import StandSit
from core.answer.reached import reach_line_m, reached_places, telling_case
from core.say.words import at_time, like_text, wind_words
from core.show.canvas import Box
from core.sit.prepare import Sit
from core.sit.scene import Scene

Floats = npt.NDArray[np.float64]
LEAST_SPAN_M = 180.0
WHOLE_UP_TO = 2.5  # the whole ground is shown where it is no more than this many times as wide
FLATTEST, TALLEST = 0.8, 1.15  # height over width


@dataclass(frozen=True)
class Brought:
    """What a map brings out. Lines in local metres; ids are those of the property."""

    stand: str | None = None
    way_in_m: Floats | None = None
    way_out_m: Floats | None = None
    reach_m: Sequence[Floats] = ()
    reached: Mapping[str, str] = field(default_factory=dict)  # what to write below the name
    noted: Mapping[str, str] = field(default_factory=dict)  # words below a name, without a hatch
    marks: Mapping[str, int] = field(default_factory=dict)  # verdicts, by stand
    spots: Sequence[tuple[float, float, str]] = ()  # east, north [m], words
    wind_from_deg: float | None = None
    beside_arrow: tuple[str, str] = ("", "")  # words by the arrow of the wind
    whole: bool = False  # the whole ground, however large


def brought_by(sit: Sit, seat: StandSit) -> Brought:
    """What the map of a sit brings out. Args: the sit; the stand in it."""
    case = telling_case(seat)
    way_in, way_out = (None if w is None else w.way.path_m for w in (seat.way_in, seat.way_out))
    if case is None:
        return Brought(seat.stand.id, way_in, way_out)
    rules, air = sit.scene.ground.air, seat.hours.air
    at_m = sit.scene.stands_m[sit.scene.index(seat.stand)]
    row = int(air.row[case])
    weather = sit.rows.weather
    wind = float(weather.wind_from_deg[row])
    lines = [
        line + at_m
        for limit in (rules.wrong_within_yd, rules.clean_beyond_yd)
        if len(line := reach_line_m(air, case, limit))
    ]
    wind_said = wind_words(weather, row)
    clock = "" if sit.weather.held else f", {at_time(sit, sit.shown_start_s(case))}"
    goes = float(air.air_to_deg[case])
    return Brought(
        stand=seat.stand.id,
        way_in_m=way_in,
        way_out_m=way_out,
        reach_m=lines,
        reached={
            r.id: f"like {like_text(r.equivalent_yd)}" for r in reached_places(sit, seat, case)
        },
        wind_from_deg=wind,
        beside_arrow=(
            f"wind {wind_said}{clock}",
            "" if np.isnan(goes) else f"your air goes {point_name(goes)}",
        ),
    )


def described(scene: Scene, brought: Brought) -> str:
    """The map in words, for those who do not see it. Args: as `property_map`."""
    parts = [f"Map of {scene.ground.name}"]
    if brought.stand:
        parts.append(f"stand {scene.ground.name_of(brought.stand)}")
    parts += [text for text in brought.beside_arrow if text]
    told = {**brought.reached, **brought.noted}
    parts += [f"{scene.ground.name_of(k)} {v}".strip() for k, v in told.items()]
    return "; ".join(parts) + "."


def view_box(scene: Scene, brought: Brought) -> Box:
    """The part of the ground that a map shows, in local metres.

    Args: as `property_map`. Returns: left, bottom, right, top; the whole ground where
    it is not much wider than what is brought out.
    """
    everything = _everything_m(scene)
    if not len(everything):
        everything = np.zeros((1, 2))
    near = _near_m(scene, brought)
    whole = _framed(everything)
    if near is None or brought.whole:
        return whole
    close = _framed(near)
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


def _near_m(scene: Scene, brought: Brought) -> Floats | None:
    parts = [p for p in (brought.way_in_m, brought.way_out_m) if p is not None]
    if brought.stand is None:
        return None
    parts.append(scene.stands_m[scene.index(scene.ground.stand(brought.stand))][None, :])
    for area, polygon in zip(scene.areas, scene.polygons, strict=True):
        if area.id in brought.reached:
            parts.append(np.asarray(polygon.exterior.coords)[:, :2])
    parts += [line for line in brought.reach_m[:1] if len(line)]
    return np.vstack(parts)


def _framed(points_m: Floats) -> Box:
    """A box round points with some air, no flatter and no taller than a screen likes."""
    low, high = points_m.min(axis=0), points_m.max(axis=0)
    middle = (low + high) / 2
    wide, tall = np.maximum((high - low) * 1.16, LEAST_SPAN_M)
    wide = max(wide, tall / TALLEST)
    tall = min(max(tall, wide * FLATTEST), wide * TALLEST)
    return (middle[0] - wide / 2, middle[1] - tall / 2, middle[0] + wide / 2, middle[1] + tall / 2)
