"""The land in words: where the heights are from, and where still air goes from each stand."""

from collections.abc import Iterator

import numpy as np

from core.answer.change import ranges_deg
from core.ground.heights.slope_at import rounded_slope, slope_text
from core.ground.layout import Property, Stand
from core.ground.store import Opened
from core.judge.stand_rows import land_at
from core.land.agreed import agrees, shown_slope
from core.land.derived import MIDDLE, Land, follows_the_ground, land_on
from core.land.kept import TREETOPS, KeptLand, land_of
from core.land.still_words import StillAir, still_air, still_text
from core.sit.scene import Scene
from core.units import M_PER_YD

LIMITS = (
    "Heights know no trees: under a wood still air may go otherwise, even uphill.",
    "Clear, calm nights; not to the minute. No study has followed a hunter's air down a hill.",
    "Answers follow these ways where air slides or climbs; a season goes straight from the stand.",
)
TREES = (
    "These heights are of treetops: in woods they say nothing of the ground, so no way of air "
    "is drawn over them."
)


def land_lines(opened: Opened) -> list[str]:
    """The land of a property, line by line. Args: the property as opened."""
    kept, why = land_of(opened)
    if kept is None:
        return [why or "No heights are kept beside this ground."]
    lines = [told_source(kept)]
    if not follows_the_ground(kept, opened.property):
        return [*lines, TREES if kept.surface == TREETOPS else "They are kept, and not used."]
    lines += [f"{name}: {text}" for name, text in still_air_by_stand(opened, kept)]
    lines += lee_lines(opened, kept)
    lines += [line for s in opened.property.stands for line in disagreements(kept, s)]
    return [*lines, *LIMITS]


def still_air_by_stand(
    opened: Opened, kept: KeptLand, *, up: bool = False
) -> list[tuple[str, str]]:
    """Each stand's name, and where still night air goes from it; none where it is not known.

    Args: the property as opened; its heights; whether up a sunlit slope instead.
    """
    ground = opened.property
    if not follows_the_ground(kept, ground):
        return []
    land = land_on(kept, ground)
    whose = "Air" if up else "Still air"
    told = ((s, _way(land, s, ground, up=up)) for s in ground.stands)
    return [(s.name or s.id, still_text(way, up=up, whose=whose)) for s, way in told]


def lee_lines(opened: Opened, kept: KeptLand) -> list[str]:
    """Winds that come over steep ground to a stand; none where no stand has such.

    Args: the property as opened; its heights.
    """
    scene = Scene(opened.property, kept)
    lands = ((s, land_at(scene, s)) for s in opened.property.stands)
    return [
        f"{s.name or s.id}: wind from {_from_to(own.rolls_back)} comes over a steep fall: it may "
        "roll back here, and such hours can't be called."
        for s, own in lands
        if own is not None and own.rolls_back.any()
    ]


def _from_to(degrees) -> str:
    return " or ".join(f"{a}° to {b}°" for a, b in ranges_deg(degrees))


def told_source(kept: KeptLand) -> str:
    """Where heights are from, when they were taken, and how high the ground is. Args: them."""
    low, high = np.nanmin(kept.grid.height), np.nanmax(kept.grid.height)
    told = f"Heights: {kept.source or 'a file'}, {kept.taken_utc[:10]}; {low:.0f} to {high:.0f} m."
    return f"{told} {kept.credit}".strip()


def still_ways_m(opened: Opened, kept: KeptLand, *, up: bool = False):
    """Ways of still air from every stand, each with its doubts, for a map; shapes (point, 2).

    Args: the property as opened; its heights; whether up a sunlit slope.
    """
    ground = opened.property
    if not follows_the_ground(kept, ground):
        return []
    land = land_on(kept, ground)
    told = [land.ways_up(s.at) if up else land.ways_down(s.at) for s in ground.stands]
    return [
        (ways[MIDDLE].points_m, [w.points_m for k, w in enumerate(ways) if k != MIDDLE])
        for ways in told
    ]


def _way(land: Land, stand: Stand, ground: Property, *, up: bool = False) -> StillAir | None:
    ways = land.ways_up(stand.at) if up else land.ways_down(stand.at)
    return still_air(ways[MIDDLE], ground, land.plane)


def disagreements(kept: KeptLand, stand: Stand) -> Iterator[str]:
    """Where a stand's typed slope and the grid's are not the same slope.

    Args: the heights; the stand.
    """
    slope = shown_slope(kept, stand)
    typed = (stand.downhill_deg, stand.grade_pct)
    if slope is None or None in typed or agrees(slope, stand):
        return
    told = rounded_slope(slope)
    heights = "level ground" if told is None else slope_text(*told)
    yield f"{stand.name or stand.id}: you typed {slope_text(*typed)}; the heights say {heights}."


def land_dict(opened: Opened) -> dict:
    """The land of a property as plain values, for JSON. Args: the property as opened."""
    kept, why = land_of(opened)
    if kept is None:
        return {"land": None, "why": why, "stands": []}
    told = {
        "source": kept.source,
        "credit": kept.credit,
        "surface": kept.surface,
        "taken_utc": kept.taken_utc,
        "sha256": kept.sha256,
        "use": kept.use,
    }
    if not follows_the_ground(kept, opened.property):
        return {"land": told, "why": TREES if kept.surface == TREETOPS else "", "stands": []}
    land = land_on(kept, opened.property)
    rows = [_row(land, stand, opened.property) for stand in opened.property.stands]
    return {"land": told, "why": "", "stands": rows}


def _row(land: Land, stand: Stand, ground: Property) -> dict:
    told = _way(land, stand, ground)
    if told is None:
        return {"id": stand.id, "toward_deg": None, "ends": "flat", "length_yd": 0, "met": []}
    met = [
        {"id": one.id, "how": one.how, "along_yd": round(one.along_m / M_PER_YD)}
        for one in told.met
    ]
    return {
        "id": stand.id,
        "toward_deg": round(told.toward_deg) % 360,
        "ends": told.ends,
        "length_yd": round(told.length_m / M_PER_YD),
        "met": met,
    }
