"""One feature of a property file at a time: checked, mended where that is plain, modelled."""

import difflib
import re
from typing import Any

from core.errors import BadProperty
from core.ground import shapes
from core.ground.fields import Fault, Field, printable, read_record, shown, text
from core.ground.kinds import KINDS, LINE, POINT, Kind
from core.ground.layout import Area, Corridor, Lane, Line, LonLat, Mark, Stand
from core.ground.plan import Plane
from core.ground.timezone_places import timezone_place
from core.ground.yearly.work_rules import dates_by_kind
from core.units import M_PER_YD

Model = Stand | Lane | Corridor | Area | Mark
ID = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
SHORTEST_LANE_YD = 5.0
LONGEST_M = 100_000.0  # of one line or outline, on a ground of 20 km
NEAR_CENTER_DEG = 3.0
ALIKE = 0.8  # of two names: likely a slip of the pen
NAME_AND_NOTES = (
    Field("name", text, ""),
    Field("notes", text, ""),
    Field("done", dates_by_kind, ()),
)


def label(kind: str, id_: str, name: str) -> str:
    """How messages name a feature: its kind, id and name."""
    told = f" ({printable(name)})" if name and name != id_ else ""
    return f'{kind} "{printable(id_)}"{told}'


def label_of(model: Model) -> str:
    """How messages name a feature that was read."""
    kind = getattr(model, "kind", type(model).__name__.lower())
    return label(kind, model.id, model.name)


def length_m(line: Line) -> float:
    """Length of a line of (lon, lat). [m]"""
    import shapely

    return float(shapely.LineString(Plane(line[0]).points(line)).length)


class FeatureReader:
    """Reads the features of one file, and remembers ids and what was mended.

    Args:
        where: the file's name, for messages.
        timezone: the property's time zone.
        center: the property's centre, already known to suit the zone.
        newer: the file's version is newer: unknown kinds are drawn as other.
    """

    def __init__(self, where: str, timezone: str, center: LonLat, newer: bool) -> None:
        self.where, self.timezone, self.center, self.newer = where, timezone, center, newer
        self.timezone_at = timezone_place(timezone)
        self.mended: list[str] = []
        self.ids: dict[str, int] = {}

    def read(self, item: Any, place: int) -> tuple[Model, dict]:
        """A feature's model, and the feature with its rings wound as they should be.

        Raises: BadProperty.
        """
        who = f"feature {place}"
        try:
            id_ = self._id(item, place)
            who = f'feature "{id_}"'
            kind, members = self._kind(item)
            name = members.get("name")
            who = label(kind, id_, name if isinstance(name, str) else "")
            return self._model(item, id_, kind, members, who)
        except Fault as fault:
            where = ", ".join(part for part in (self.where, who) if part)
            raise BadProperty(fault.text(), where, fault.fix) from None

    def _id(self, item: Any, place: int) -> str:
        if not isinstance(item, dict) or item.get("type") != "Feature":
            raise Fault(f"is {shown(item)}, not a Feature", 'Give it the type "Feature".')
        id_ = item.get("id")
        if id_ is None:
            raise Fault("has no id", "Give it one, like north-oak.")
        if not isinstance(id_, str) or not ID.fullmatch(id_):
            raise Fault(
                f"has the id {shown(id_)}",
                "Use 1 to 40 small letters, digits and dashes, no dash first, like north-oak.",
            )
        if id_ in self.ids:
            raise Fault(
                f"has the id {shown(id_)}, and so has feature {self.ids[id_]}",
                "Give one of them another id.",
            )
        self.ids[id_] = place
        return id_

    def _kind(self, item: dict) -> tuple[str, dict]:
        members = item.get("properties")
        if not isinstance(members, dict):
            raise Fault(f"has the properties {shown(members)}", "Write them in { }, with a kind.")
        kind = members.get("kind")
        if kind is None:
            raise Fault("has no kind", f"Write one of: {', '.join(KINDS)}.")
        if isinstance(kind, str) and kind in KINDS:
            return kind, members
        if self.newer and isinstance(kind, str):
            self.mended.append(
                f"{label(kind, item['id'], '')}: a kind of a newer version, drawn as other"
            )
            return "other", members
        close = difflib.get_close_matches(str(kind), KINDS, 1, ALIKE)
        guess = f"Did you mean {close[0]}? " if close else ""
        raise Fault(
            f"has the unknown kind {shown(kind)}", f"{guess}Write one of: {', '.join(KINDS)}."
        )

    def _model(self, item: dict, id_: str, kind: str, members: dict, who: str):
        row = KINDS[kind]
        shape = shapes.shape_of(item.get("geometry"))
        if shape not in row.shapes:
            wanted = " or ".join(shapes.WORDS[s] for s in row.shapes)
            raise Fault(f"is {shapes.WORDS[shape]} ({shape})", f"A {kind} must be {wanted}.")
        values = read_record(members, (*NAME_AND_NOTES, *row.fields))
        values["name"] = values["name"] if values["name"].strip() else id_
        self._note_slips(members, row, who)
        geometry, drawn = self._geometry(item["geometry"], shape, kind, who)
        if geometry is not item["geometry"]:
            item = {**item, "geometry": geometry}
        return row.build(id=id_, **values, **drawn), item

    def _geometry(self, geometry: dict, shape: str, kind: str, who: str):
        """The geometry with its rings wound right, and the model's share of it."""
        places = geometry.get("coordinates")
        if shape == POINT:
            at = shapes.position(places)
            self._check_side([at])
            return geometry, {"at": at} if kind == "stand" else _mark(kind, shape, (at,))
        if shape == LINE:
            line = shapes.line_of(places)
            self._check_side(line)
            _check_length(line, kind)
            plain = kind in ("lane", "corridor")
            return geometry, {"line": line} if plain else _mark(kind, shape, line)
        rings, lines = shapes.polygon_of(places)
        for ring in lines:
            self._check_side(ring)
            check_longest(length_m(ring))
        shapes.check_area(lines)
        if rings != places:
            self.mended.append(f"{who}: a ring was wound the wrong way and was turned round")
            geometry = {**geometry, "coordinates": rings}
        return geometry, _area(kind, shape, lines)

    def _check_side(self, line) -> None:
        lon_0, lat_0 = self.center
        for lon, lat in line:
            if abs(lon - lon_0) > NEAR_CENTER_DEG or abs(lat - lat_0) > NEAR_CENTER_DEG:
                shapes.check_near_timezone((lon, lat), self.timezone_at, self.timezone)

    def _note_slips(self, members: dict, row: Kind, who: str) -> None:
        known = [field.name for field in (*NAME_AND_NOTES, *row.fields)]
        for name in members.keys() - {"kind", *known}:
            close = difflib.get_close_matches(name, known, 1, ALIKE)
            if close:
                self.mended.append(f'{who}: "{printable(name)}" is not used; is {close[0]} meant?')


def _mark(kind: str, shape: str, points: Line, holes: tuple[Line, ...] = ()) -> dict:
    return {"kind": kind, "geometry": shape, "points": points, "holes": holes}


def _area(kind: str, shape: str, lines: list[Line]) -> dict:
    """Models hold rings without the closing place."""
    ring, *holes = (line[:-1] for line in lines)
    if kind in ("bedding", "food"):
        return {"kind": kind, "ring": ring, "holes": tuple(holes)}
    return _mark(kind, shape, ring, tuple(holes))


def check_longest(line_m: float) -> None:
    """That a line is one that somebody could walk. Args: its length. [m] Raises: Fault."""
    if line_m > LONGEST_M:
        raise Fault(
            f"is {line_m / 1000:,.0f} km long, over {LONGEST_M / 1000:g}",
            "It goes to and fro more than any line on the ground: draw it again.",
        )


def _check_length(line: Line, kind: str) -> None:
    yards = length_m(line) / M_PER_YD
    if kind == "lane" and yards < SHORTEST_LANE_YD:
        raise Fault(
            f"is {yards:.1f} yd long, under {SHORTEST_LANE_YD:g}",
            "Draw it from the truck to the stand, or take it out.",
        )
    check_longest(yards * M_PER_YD)
    if yards == 0:
        raise Fault("has no length: all its points are one place", "Draw it again.")
