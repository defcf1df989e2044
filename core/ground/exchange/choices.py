"""What came from another program's file, on its way into a property.

`new_ids` and `suggested` let a screen show what each thing would become; `with_brought`
makes the document. Nothing of the property itself is changed.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely
import shapely.geometry

from core.ground.exchange.as_features import free_id, take, unsuited
from core.ground.exchange.guesses import UNKNOWN, is_way_and_more
from core.ground.exchange.items import Incoming
from core.ground.kinds import KINDS, LINE, POINT
from core.ground.layout import LonLat
from core.ground.plan import Plane
from core.units import M_PER_YD, SQ_M_PER_ACRE

AT_A_STAND_YD = 60.0  # a track that ends this near was likely walked to that stand
Kinds = Sequence[str | None]  # of each thing; None leaves it out


def kinds_for(one: Incoming) -> list[str]:
    """The kinds that a thing can be taken as, its guess first where that suits."""
    suits = [kind for kind in KINDS if not unsuited(one, kind)]
    return sorted(suits, key=lambda kind: kind != one.kind)


def placed(document: dict, incoming: Sequence[Incoming]) -> list[Incoming]:
    """What came in, its guesses mended by where the lines end.

    A recorded walk that ends at a stand was a way to it. A name that tells of a way and of
    something else, as "walk in creek", counts only then; elsewhere it is left to be asked.
    Args: a property's document; what came in.
    """
    kinds = [one.kind or None if not one.fault else None for one in incoming]
    places = _stand_places(document, incoming, kinds, new_ids(document, incoming, kinds))
    return [_placed(one, places) for one in incoming]


def _placed(one: Incoming, stands: dict[str, LonLat]) -> Incoming:
    if one.shape != LINE or one.fault or one.members:
        return one
    unsure = is_way_and_more(one.name)
    if not (unsure or (one.recorded and one.kind == UNKNOWN)):
        return one
    ends_there = bool(_near_its_ends(one, stands)[0])
    return replace(one, kind="lane" if ends_there else UNKNOWN)


def extent(one: Incoming) -> str:
    """What a thing is and how large, in words."""
    if not one.points:
        return "nothing that can be drawn"
    plane = Plane(one.points[0])
    if one.shape == POINT:
        lon, lat = one.points[0]
        return f"a point at {lat:.5f}, {lon:.5f}"
    if one.shape == LINE:
        yards = shapely.LineString(plane.points(one.points)).length / M_PER_YD
        return f"a line of {len(one.points):,} points, {yards:,.0f} yd"
    holes = [plane.points(hole) for hole in one.holes]
    acres = shapely.Polygon(plane.points(one.points), holes).area / SQ_M_PER_ACRE
    return f"an area of {acres:.1f} acres"


def new_ids(document: dict, incoming: Sequence[Incoming], kinds: Kinds) -> dict[int, str]:
    """The id that each thing taken would get, by its place in the file.

    Args: a property's document; what came in; the kind of each.
    """
    used = {item["id"] for item in document["features"]}
    found = {}
    for i, (one, kind) in enumerate(zip(incoming, kinds, strict=True)):
        if kind is not None:
            found[i] = free_id(one.id or one.name, kind, used)
            used.add(found[i])
    return found


def middle_of(feature: dict) -> LonLat:
    """A place on a thing, away from its ends or its rim: (lon, lat). Args: its feature."""
    shape = shapely.geometry.shape(feature["geometry"])
    at = (
        shape.interpolate(0.5, normalized=True)
        if shape.geom_type == LINE
        else shape.representative_point()
    )
    return at.x, at.y


def stands_known(document: dict, incoming: Sequence[Incoming], kinds: Kinds) -> dict[str, str]:
    """Names of the stands a lane could lead to, by id: those there and those coming in.

    Args: as `new_ids`.
    """
    known = {
        item["id"]: str(item["properties"].get("name") or item["id"])
        for item in document["features"]
        if item["properties"]["kind"] == "stand"
    }
    ids = new_ids(document, incoming, kinds)
    return known | {ids[i]: incoming[i].name for i in ids if kinds[i] == "stand"}


def suggested(
    document: dict, incoming: Sequence[Incoming], kinds: Kinds
) -> dict[int, tuple[list[str], bool]]:
    """The stands that each lane coming in seems to lead to, and whether it starts at them.

    Args: as `new_ids`. A lane of a property file keeps its stands.

    Returns: by the lane's place, ids of stands; True where the line should be turned
    round, so that it starts at the truck.
    """
    ids = new_ids(document, incoming, kinds)
    known = stands_known(document, incoming, kinds)
    renamed = {incoming[i].id: id_ for i, id_ in ids.items() if incoming[i].id}
    places = _stand_places(document, incoming, kinds, ids)
    found = {}
    for i, kind in enumerate(kinds):
        if kind == "lane":
            told = _told_stands(incoming[i], renamed, known)
            found[i] = _near_its_ends(incoming[i], places) if told is None else (told, False)
    return found


def _told_stands(one: Incoming, renamed: dict[str, str], known: dict[str, str]):
    """The stands that a lane of a property file names; None for any other line."""
    members = one.members or {}
    told = members.get("stands")
    if members.get("kind") != "lane" or not isinstance(told, list):
        return None
    names = (renamed.get(str(stand), str(stand)) for stand in told)
    return [name for name in names if name in known]


def _near_its_ends(one: Incoming, places: dict[str, LonLat]) -> tuple[list[str], bool]:
    """The stand at one end of a line, and whether that is its first."""
    if not places:
        return [], False
    plane = Plane(one.points[0])
    at = plane.points(list(places.values()))
    first, last = plane.points([one.points[0], one.points[-1]])
    to_first, to_last = (np.hypot(*(at - end).T) / M_PER_YD for end in (first, last))
    starts_there = bool(to_first.min() < to_last.min())
    nearest = to_first if starts_there else to_last
    if nearest.min() > AT_A_STAND_YD:
        return [], False
    return [list(places)[int(nearest.argmin())]], starts_there


def _stand_places(document, incoming, kinds, ids) -> dict[str, LonLat]:
    there = {
        item["id"]: tuple(item["geometry"]["coordinates"][:2])
        for item in document["features"]
        if item["properties"]["kind"] == "stand"
    }
    return there | {ids[i]: incoming[i].points[0] for i in ids if kinds[i] == "stand"}


def with_brought(
    document: dict,
    incoming: Sequence[Incoming],
    kinds: Kinds,
    lane_stands: Mapping[int, Sequence[str]],
    turned: Collection[int] = (),
) -> dict:
    """A document with what was taken behind what was there.

    Args:
        document: a property's document, not changed.
        incoming: what came in.
        kinds: of each; None leaves it out.
        lane_stands: ids of the stands that each lane leads to, by its place.
        turned: places of the lines whose points go the other way round.

    Raises: BadMap for a kind that does not suit. A lane without stands is refused when
        the document is read.
    """
    used = {item["id"] for item in document["features"]}
    features = []
    for i, (one, kind) in enumerate(zip(incoming, kinds, strict=True)):
        if kind is None:
            continue
        stands = lane_stands.get(i, ()) if kind == "lane" else None
        feature = take(one, kind, taken_ids=used, stands=stands, turned=i in turned)
        used.add(feature["id"])
        features.append(feature)
    return {**document, "features": [*document["features"], *features]}
