"""From a property document to the models of the ground: everything checked and named."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from core.errors import BadProperty
from core.ground import shapes
from core.ground.features import FeatureReader, Model, label_of, length_m
from core.ground.fields import Fault, printable, read_record, shown
from core.ground.kinds import PROPERTY
from core.ground.layout import Area, Corridor, Lane, Line, LonLat, Mark, Property, Stand
from core.ground.plan import Plane
from core.ground.timezone_places import timezone_place
from core.units import MPS_PER_MPH, SECONDS_PER_MINUTE

FORMAT, VERSION = "stand-and-wind", 1
MOST_FEATURES = 5000
LONGEST_WALK_MIN = 600.0  # as for the minutes of a lane
WIDEST_M = 20_000.0
HIGHEST_LAT_DEG = 85.0  # nearer the poles east and north lose their sense
WORLD_CRS = ("CRS84", "4326")

# from an older version to the next: each takes a document and gives a new one
MIGRATIONS: dict[int, Callable[[dict], dict]] = {}


@dataclass(frozen=True)
class Read:
    """A document that was read: models, the document as mended, and what was mended."""

    property: Property
    document: dict
    mended: tuple[str, ...]
    newer: bool  # its version is newer than this program's


def read_document(document: Any, where: str = "") -> Read:
    """A parsed JSON document, checked against the whole of the file's rules.

    Args:
        document: what JSON gave; it is not changed.
        where: the file's name, for messages.

    Raises: BadProperty, with the feature, the fault and the mend.
    """
    try:
        document, mended = _brought_up(document)
        newer = document["property"]["version"] > VERSION
        rules, center = _rules(document["property"])
        items = _features(document)
        reader = FeatureReader(where, rules["timezone"], center, newer)
        features = [reader.read(item, place) for place, item in enumerate(items, 1)]
        prop = Property(center=center, **rules, **_grouped([model for model, _ in features]))
        _check_lanes(prop, where)
        _check_walks(prop, where)
        _check_width(prop)
    except Fault as fault:
        raise BadProperty(fault.text(), where, fault.fix) from None
    mended += [*reader.mended, *_unused_parts(prop)]
    document = {**document, "features": [item for _, item in features]}
    return Read(prop, document, tuple(mended), newer)


def property_from_document(document: Any, where: str = "") -> Property:
    """The models of a parsed JSON document. Raises: BadProperty."""
    return read_document(document, where).property


def _brought_up(document: Any) -> tuple[dict, list[str]]:
    """A document of this format, brought to this version; newer ones as they are."""
    check_collection(document)
    if "property" not in document:
        raise Fault(
            "the file has no member property, so it is not a property file",
            "Bring plain map files in on the Map screen, or with: python -m core convert.",
        )
    rules, version = _format(document["property"])
    notes = []
    while version < VERSION:
        step = MIGRATIONS.get(version)
        if step is None:
            raise Fault(
                f"property.version is {version}, which nothing here can read",
                f"Save it with version {VERSION}.",
            )
        document = step(document)
        version += 1
        rules = {**document["property"], "version": version}
        notes.append(f"the file was of version {version - 1} and was brought to {version}")
    if version > VERSION:
        notes.append(
            f"the file is of version {version}, newer than this program's {VERSION}: "
            "it can be looked at, not saved"
        )
    return {**document, "property": rules}, notes


def _format(rules: Any) -> tuple[dict, int]:
    if not isinstance(rules, dict):
        raise Fault(f"property is {shown(rules)}, not an object", "Write its members in { }.")
    if rules.get("format") != FORMAT:
        raise Fault(
            f"property.format is {shown(rules.get('format'))}, not {FORMAT}",
            "Open a file that this program saved.",
        )
    version = rules.get("version")
    if isinstance(version, bool) or not isinstance(version, int) or version < 0:
        raise Fault(f"property.version is {shown(version)}", f"Write {VERSION}.")
    return rules, version


def check_collection(document: Any) -> None:
    """That a document is a FeatureCollection in longitude and latitude. Raises: Fault."""
    if not isinstance(document, dict):
        raise Fault(f"the file holds {shown(document)}, not an object", "Start it with {.")
    if document.get("type") != "FeatureCollection":
        raise Fault(
            f"the file's type is {shown(document.get('type'))}",
            "It must be a GeoJSON FeatureCollection.",
        )
    check_crs(document)


def check_crs(document: dict) -> None:
    """That an old-style crs member names longitude and latitude, WGS 84. Raises: Fault."""
    crs = document.get("crs")
    if crs is not None and not any(word in shown(crs) for word in WORLD_CRS):
        raise Fault(
            f"the file's crs is {shown(crs)}",
            "Save it in longitude and latitude, WGS 84 (EPSG:4326).",
        )


def _rules(members: dict) -> tuple[dict, LonLat]:
    try:
        rules = read_record(members, PROPERTY)
        center = _center(members.get("center"), rules["timezone"])
        for name in ("parts", "people", "weapons"):
            _check_once(name, [item.name for item in rules[name]])
    except Fault as fault:
        raise fault.under("property") from None
    return rules, center


def _center(value: Any, timezone: str) -> LonLat:
    try:
        if value is None:
            raise Fault("is missing", "Write the middle of the ground: [longitude, latitude].")
        center = shapes.position(value)
        if abs(center[1]) > HIGHEST_LAT_DEG:
            raise Fault(
                f"has the latitude {center[1]:g}, too near a pole",
                f"Write a latitude from -{HIGHEST_LAT_DEG:g} to {HIGHEST_LAT_DEG:g}.",
            )
        shapes.check_near_timezone(center, timezone_place(timezone), timezone)
    except Fault as fault:
        raise fault.under("center") from None
    return center


def _check_once(what: str, names: list[str]) -> None:
    for name in names:
        if names.count(name) > 1:
            raise Fault(f"has {shown(name)} twice", "Give one another name.", (what,))


def _features(document: dict) -> list:
    items = document.get("features")
    if not isinstance(items, list):
        raise Fault(f"features is {shown(items)}, not a list", "Write [] for an empty ground.")
    if len(items) > MOST_FEATURES:
        raise Fault(
            f"the file has {len(items):,} features, over {MOST_FEATURES:,}",
            "Take out what is not this ground.",
        )
    return items


def _grouped(models: list[Model]) -> dict[str, Any]:
    groups = {"stands": Stand, "lanes": Lane, "corridors": Corridor, "areas": Area, "marks": Mark}
    return {
        name: tuple(m for m in models if isinstance(m, model)) for name, model in groups.items()
    }


def _check_lanes(prop: Property, where: str) -> None:
    known = {stand.id for stand in prop.stands}
    for lane in prop.lanes:
        place = f"{where}, {label_of(lane)}" if where else label_of(lane)
        if not lane.stands:
            raise BadProperty(
                "stands is empty: it serves no stand",
                place,
                "Name the stands it leads to, or take it out.",
            )
        for id_ in lane.stands:
            if id_ not in known:
                raise BadProperty(
                    f"stands names {shown(id_)}, and no stand has that id",
                    place,
                    f"Stands here: {', '.join(sorted(known)[:12]) or 'none'}.",
                )


def _check_walks(prop: Property, where: str) -> None:
    """That every lane is walked within a day; an owner's own minutes are held to that too."""
    m_a_min = prop.sit.walk_mph * MPS_PER_MPH * SECONDS_PER_MINUTE
    for lane in prop.lanes:
        minutes = length_m(lane.line) / m_a_min
        if lane.minutes is None and minutes > LONGEST_WALK_MIN:
            raise BadProperty(
                f"takes {minutes:,.0f} minutes at sit.walk_mph {prop.sit.walk_mph:g}, over "
                f"{LONGEST_WALK_MIN:g}",
                f"{where}, {label_of(lane)}" if where else label_of(lane),
                "Mend the lane or sit.walk_mph, or give your own minutes for it.",
            )


def _line_of(model: Model) -> Line:
    if isinstance(model, Stand):
        return (model.at,)
    if isinstance(model, Area):
        return model.ring
    return model.points if isinstance(model, Mark) else model.line


def _check_width(prop: Property) -> None:
    import shapely

    models: list[Model] = [*prop.stands, *prop.lanes, *prop.corridors, *prop.areas, *prop.marks]
    if not models:
        return
    plane = Plane(prop.center)
    drawn = [plane.points(_line_of(model)) for model in models]
    hull = shapely.get_coordinates(
        shapely.convex_hull(shapely.MultiPoint(np.vstack([[[0.0, 0.0]], *drawn])))
    )
    across_m = max(float(np.hypot(*(hull - corner).T).max()) for corner in hull)
    if across_m <= WIDEST_M:
        return
    reach_m = [float(np.hypot(*points.T).max()) for points in drawn]
    farthest = reach_m.index(max(reach_m))
    raise Fault(
        f"the ground is {across_m / 1000:,.1f} km across with its center, over 20 km; farthest is "
        f"{label_of(models[farthest])}, {reach_m[farthest] / 1000:,.1f} km from the center",
        "Mend that feature or property.center.",
    )


def _unused_parts(prop: Property) -> list[str]:
    known = {part.name for part in prop.parts}
    return [
        f'{label_of(stand)}: wanted.by_part names "{printable(name)}", and no part of the '
        "season has that name: not used"
        for stand in prop.stands
        for name, _ in stand.wanted.by_part
        if name not in known
    ]
