"""Changes of one feature in a property document: added, drawn anew, told about, taken out.

Each function gives a new document and leaves the old one as it was. A feature that the
file's own rules would refuse is refused here, so that a draft never holds one; only a
lane may wait for its stands until it is saved.
"""

import copy
import math
from collections.abc import Sequence
from typing import Any

from core.errors import BadProperty
from core.ground import shapes
from core.ground.exchange.as_features import free_id
from core.ground.features import FeatureReader, Model
from core.ground.kinds import KINDS, POINT, POLYGON
from core.ground.plan import Plane

DECIMALS = 7  # of a degree: about a centimetre
HELD_M = 0.5  # a lane's end this near its stand goes along when the stand is moved
FIRST_WORDS = "first_words"  # member of the rules: what new features of a kind start with
CALLED = {
    "stand": "Stand",
    "lane": "Way in",
    "corridor": "Trail",
    "bedding": "Bed",
    "food": "Food",
    "boundary": "Boundary",
    "no-shoot": "No shots",
    "draw": "Draw",
    "truck": "Truck",
    "water": "Water",
    "sign": "Sign",
    "camera": "Camera",
    "other": "Place",
}


def feature_of(document: dict, id_: str) -> dict | None:
    """The feature of an id; None where there is none."""
    return next((item for item in document["features"] if item["id"] == id_), None)


def model_of(document: dict, feature: dict) -> Model:
    """One feature as its model, checked. Raises: BadProperty."""
    rules = document["property"]
    reader = FeatureReader("", rules["timezone"], tuple(rules["center"]), newer=False)
    return reader.read(feature, 1)[0]


def added(document: dict, kind: str, geometry: dict) -> tuple[dict, str]:
    """A document with one more feature, and that one's id.

    A new lane leads to the stand at its end, if one is there.

    Args:
        document: a property's document.
        kind: one of KINDS.
        geometry: GeoJSON; rings may be open.

    Raises: BadProperty, as `model_of`.
    """
    rules, features = document["property"], document["features"]
    taken = [item["id"] for item in features]
    name = _free_name(CALLED[kind], {item["properties"].get("name") for item in features})
    first = rules.get(FIRST_WORDS)
    words = first.get(kind) if isinstance(first, dict) else None
    members = {"kind": kind, "name": name, **(copy.deepcopy(words) if words else {})}
    new_id = free_id(name, kind, taken)
    feature = {
        "type": "Feature",
        "id": new_id,
        "geometry": tidy(geometry),
        "properties": members,
    }
    if kind == "lane":
        members["stands"] = stands_at(document, tidy(geometry)["coordinates"][-1])
    model_of(document, feature)
    return {**document, "features": [*features, feature]}, new_id


def _free_name(word: str, taken: set) -> str:
    number = 1
    while f"{word} {number}" in taken:
        number += 1
    return f"{word} {number}"


def tidy(geometry: dict) -> dict:
    """A geometry with places to 7 decimals, doubled places out, rings closed and wound.

    Source: [rfc7946], 3.1.6, for the winding.
    """
    kind, places = geometry["type"], geometry["coordinates"]
    if kind == POINT:
        return {"type": kind, "coordinates": _place(places)}
    if kind != POLYGON:
        return {"type": kind, "coordinates": _single(places)}
    rings = [_single(ring) for ring in places]
    closed = [ring if ring[0] == ring[-1] else [*ring, ring[0]] for ring in rings]
    wound = [
        shapes.wound(ring, outer=i == 0) if len(ring) >= shapes.LEAST_RING else ring
        for i, ring in enumerate(closed)
    ]
    return {"type": kind, "coordinates": wound}


def _place(place: Sequence[float]) -> list[float]:
    return [round(float(number), DECIMALS) for number in place]


def _single(places: Sequence) -> list[list[float]]:
    kept: list[list[float]] = []
    for place in map(_place, places):
        if not kept or place != kept[-1]:
            kept.append(place)
    return kept


def reshaped(document: dict, id_: str, geometry: dict) -> dict:
    """A document in which a feature lies elsewhere; ends of lanes go along with a stand.

    Args:
        document: a property's document.
        id_: the feature's id.
        geometry: GeoJSON; where it has fewer rings than before, the holes stay.

    Raises: BadProperty for an unknown id, and as `model_of`.
    """
    old = _known(document, id_)
    if old["geometry"]["type"] == POLYGON and geometry["type"] == POLYGON:
        holes = old["geometry"]["coordinates"][len(geometry["coordinates"]) :]
        geometry = {**geometry, "coordinates": [*geometry["coordinates"], *holes]}
    new = {**old, "geometry": tidy(geometry)}
    model_of(document, new)
    result = _with(document, new)
    if old["properties"]["kind"] == "lane":
        found = stands_at(result, new["geometry"]["coordinates"][-1])
        return _leading_to(result, new, found)
    if old["properties"]["kind"] == "stand":
        at = new["geometry"]["coordinates"]
        return _ends_along(result, id_, old["geometry"]["coordinates"], at)
    return result


def _known(document: dict, id_: str) -> dict:
    feature = feature_of(document, id_)
    if feature is None:
        raise BadProperty(f'nothing has the id "{id_}"', "", "It may be gone: look at the map.")
    return feature


def _with(document: dict, feature: dict) -> dict:
    features = [feature if f["id"] == feature["id"] else f for f in document["features"]]
    return {**document, "features": features}


def _leading_to(document: dict, lane: dict, found: list[str]) -> dict:
    """A lane that was drawn to a stand leads to that one too."""
    members = lane["properties"]
    new = [id_ for id_ in found if id_ not in members.get("stands", [])]
    if not new:
        return document
    members = {**members, "stands": [*members.get("stands", []), *new]}
    return _with(document, {**lane, "properties": members})


def _ends_along(document: dict, stand_id: str, old: list, new: list) -> dict:
    """Lanes to a stand that end where it hung end where it hangs now."""
    for item in document["features"]:
        members, geometry = item["properties"], item["geometry"]
        if members["kind"] != "lane" or stand_id not in members.get("stands", []):
            continue
        places = [list(new) if _near(p, old) else p for p in geometry["coordinates"]]
        moved = {**item, "geometry": tidy({**geometry, "coordinates": places})}
        if places != geometry["coordinates"] and len(moved["geometry"]["coordinates"]) > 1:
            document = _with(document, moved)
    return document


def _near(a: Sequence[float], b: Sequence[float]) -> bool:
    east, north = Plane((b[0], b[1])).to_local(a[0], a[1])
    return math.hypot(float(east), float(north)) <= HELD_M


def stands_at(document: dict, place: Sequence[float]) -> list[str]:
    """Ids of the stands at a place, to half a metre."""
    return [
        item["id"]
        for item in document["features"]
        if item["properties"]["kind"] == "stand" and _near(place, item["geometry"]["coordinates"])
    ]


def told(document: dict, id_: str, path: Sequence[str], value: Any) -> dict:
    """A document in which one thing is said of a feature.

    Args:
        document: a property's document.
        id_: the feature's id.
        path: names of the member, outer ones first, as ("wanted", "morning").
        value: what it is; None takes it out, so that the default holds.

    Raises: BadProperty for an unknown id, and for a value that its rules refuse.
    """
    return told_all(document, id_, [(path, value)])


def told_all(document: dict, id_: str, values: Sequence[tuple[Sequence[str], Any]]) -> dict:
    """As `told`, for several members at once. Raises: BadProperty."""
    old = _known(document, id_)
    members = old["properties"]
    for path, value in values:
        members = _put(members, tuple(path), value)
    new = {**old, "properties": members}
    model_of(document, new)
    return _with(document, new)


def _put(members: dict, path: tuple[str, ...], value: Any) -> dict:
    name, *rest = path
    if rest:
        inner = members.get(name)
        value = _put(inner if isinstance(inner, dict) else {}, tuple(rest), value) or None
    if value is None:
        return {k: v for k, v in members.items() if k != name}
    return {**members, name: value}


def removed(document: dict, id_: str) -> dict:
    """A document without a feature; lanes no longer lead to a stand that is gone.

    Raises: BadProperty for an unknown id.
    """
    _known(document, id_)
    kept = [item for item in document["features"] if item["id"] != id_]
    return {**document, "features": [_without_stand(item, id_) for item in kept]}


def _without_stand(item: dict, stand_id: str) -> dict:
    stands = item["properties"].get("stands")
    if item["properties"]["kind"] != "lane" or stand_id not in (stands or []):
        return item
    left = [id_ for id_ in stands if id_ != stand_id]
    return {**item, "properties": {**item["properties"], "stands": left}}


def shape_first(kind: str) -> str:
    """The shape that a kind is drawn in first: an area for a boundary, a line for a draw."""
    drawn = {"boundary": POLYGON, "no-shoot": POLYGON, "draw": "LineString", "water": "LineString"}
    return drawn.get(kind, KINDS[kind].shapes[0])
