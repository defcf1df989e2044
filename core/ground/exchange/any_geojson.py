"""GeoJSON of any make: features, bare shapes, several shapes in one.

Source: [rfc7946].
"""

from typing import Any

from core.ground.exchange.items import LONGEST_NAME, LONGEST_TEXT, BadMap, Raw
from core.ground.features import NAME_AND_NOTES
from core.ground.fields import Fault, shown
from core.ground.kinds import KINDS, LINE, POINT, POLYGON
from core.ground.parse import check_crs

NAMES = ("name", "title", "label")
TEXTS = ("notes", "description", "desc", "comment", "cmt")
SYMBOLS = ("sym", "symbol", "icon", "marker-symbol")
HINTS = ("type", "category", "class", "layer", "folder", *SYMBOLS, "kind")
SINGLE = {"MultiPoint": POINT, "MultiLineString": LINE, "MultiPolygon": POLYGON}
SHAPES = (POINT, LINE, POLYGON)


def read_geojson(document: dict, where: str) -> list[Raw]:
    """Everything drawn in a GeoJSON document, in order.

    Raises: BadMap for another kind of JSON, and for another coordinate system.
    """
    try:
        check_crs(document)
    except Fault as fault:
        raise BadMap(fault.text(), where, fault.fix) from None
    items = _items(document)
    if items is None:
        raise BadMap(
            f"the file's type is {shown(document.get('type'))}, which is not GeoJSON",
            where,
            "Save it as GeoJSON, GPX or KML.",
        )
    return [raw for item in items for raw in _things(item)]


def _items(document: dict) -> list | None:
    kind = _type_of(document)
    if kind == "FeatureCollection":
        items = document.get("features")
        return items if isinstance(items, list) else None
    if kind == "Feature":
        return [document]
    is_shape = kind in SHAPES or kind in SINGLE or kind == "GeometryCollection"
    return [{"type": "Feature", "geometry": document}] if is_shape else None


def _type_of(thing: dict) -> str:
    kind = thing.get("type")
    return kind if isinstance(kind, str) else ""


def _things(item: Any) -> list[Raw]:
    if not isinstance(item, dict):
        return [Raw(name="", shape=POINT, lines=(), fault=f"is {shown(item)}, not a feature")]
    members = item.get("properties")
    members = members if isinstance(members, dict) else {}
    kind, own, notes = _own_kind(members)
    name, shapes = _word(members, NAMES)[:LONGEST_NAME], _shapes(item.get("geometry"))
    many, text = len(shapes) > 1, _word(members, TEXTS)[:LONGEST_TEXT]
    symbol = _word(members, SYMBOLS)[:LONGEST_NAME]  # once: there may be thousands of shapes
    hints = tuple(filter(None, (_word(members, (key,))[:LONGEST_NAME] for key in HINTS)))
    return [
        Raw(
            name=f"{name}, part {number}" if name and many else name,
            shape=shape,
            lines=lines,
            text=text,
            hints=hints,
            symbol=symbol,
            kind=kind if kind and shape in KINDS[kind].shapes else "",
            id=str(item.get("id") or "") if kind and not many else "",
            members=own,
            fault="" if lines else _no_shape(item.get("geometry")),
            notes=notes,
        )
        for number, (shape, lines) in enumerate(shapes or [(POINT, ())], 1)
    ]


def _no_shape(geometry: Any) -> str:
    if geometry is None:
        return "has no geometry: it lies nowhere"
    return f"has the geometry {shown(geometry)}"


def _own_kind(members: dict) -> tuple[str, dict | None, tuple[str, ...]]:
    """The kind of a feature of this program's own, its properties, and what was left out of
    them because no property file may hold it; for another's feature nothing."""
    kind = members.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        return "", None, ()
    own, notes = dict(members), []
    if _is_number(own.get("name")):
        own["name"] = str(own["name"])
        notes.append(f"its name is a number, {own['name']}, and was read as text")
    for field in (*NAME_AND_NOTES, *KINDS[kind].fields):
        if own.get(field.name) is None:
            continue
        try:
            field.check(own[field.name])
        except Fault as fault:
            notes.append(f"{fault.under(field.name).text()}: left out")
            own.pop(field.name)
    return kind, own, tuple(notes)


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _word(members: dict, names: tuple[str, ...]) -> str:
    """The first of some members that has text or a number, whatever the case of its name."""
    small = {str(name).lower(): value for name, value in members.items()}
    found = (small.get(name) for name in names)
    words = (str(word) if _is_number(word) else word for word in found)
    return next((word.strip() for word in words if isinstance(word, str) and word.strip()), "")


def _shapes(geometry: Any) -> list[tuple[str, tuple]]:
    """Single shapes of a geometry, each with its lines; none for what cannot be read."""
    found: list[tuple[str, tuple]] = []
    waiting = [geometry]
    while waiting:
        one = waiting.pop()
        if not isinstance(one, dict):
            continue
        kind, places = _type_of(one), one.get("coordinates")
        if kind == "GeometryCollection" and isinstance(one.get("geometries"), list):
            waiting += reversed(one["geometries"])
        elif kind in SINGLE and isinstance(places, list):
            waiting += [{"type": SINGLE[kind], "coordinates": part} for part in reversed(places)]
        elif kind in SHAPES:
            found.append((kind, _lines(kind, places)))
    return found


def _lines(kind: str, places: Any) -> tuple:
    """A shape's lines as (longitude, latitude); empty for what is none."""
    nested = {POINT: [[places]], LINE: [places], POLYGON: places}[kind]
    if not isinstance(nested, list) or not all(isinstance(line, list) for line in nested):
        return ()
    pairs = [[p[:2] if _is_place(p) else (None, None) for p in line] for line in nested]
    return tuple([(lon, lat) for lon, lat in line] for line in pairs)


def _is_place(value: Any) -> bool:
    return isinstance(value, list) and len(value) >= 2
