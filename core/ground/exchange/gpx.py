"""GPX 1.1 and 1.0: waypoints, routes and tracks in; stands, lines and areas out.

GPX knows no areas: one goes out as a closed track, its holes as further segments, with
" area" behind the kind in the track's type, so that it comes back as an area.

Source: [gpx11]; 1.0 differs in its namespace only, for what is read here.
"""

import re
from dataclasses import replace
from datetime import datetime
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from core.ground.exchange.items import LONGEST_NAME, LONGEST_TEXT, Raw
from core.ground.exchange.xmltext import attribute, children, element_text
from core.ground.kinds import KINDS, LINE, POINT, POLYGON

NAMESPACE = "http://www.topografix.com/GPX/1/1"
CREATOR = "Stand & Wind"
AREA = " area"
# what XML 1.0 cannot hold
NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
Places = list[tuple[str, str]]


def read_gpx(root: Element) -> list[Raw]:
    """Waypoints, routes and tracks of a GPX document, in this order.

    A track of several segments gives one thing for each.
    """
    points = [_raw(_words(wpt), POINT, ([_place(wpt)],)) for wpt in children(root, "wpt")]
    routes = [_raw(_words(rte), LINE, (_line(rte, "rtept"),)) for rte in children(root, "rte")]
    tracks = [raw for trk in children(root, "trk") for raw in _track(trk)]
    return points + routes + tracks


def _track(trk: Element) -> list[Raw]:
    words = _words(trk)  # once: a track may have thousands of segments
    segments = [(_line(part, "trkpt"), _times(part)) for part in children(trk, "trkseg")]
    segments = [segment for segment in segments if segment[0]] or [([], ())]
    if words["type"].endswith(AREA):
        return [_raw(words, POLYGON, tuple(line for line, _ in segments))]
    many = len(segments) > 1
    parts = [
        (_raw(words, LINE, (line,), f", part {number}" if many else ""), times)
        for number, (line, times) in enumerate(segments, 1)
    ]
    # what this program has written was drawn, not recorded
    return [replace(raw, recorded=not raw.kind, times_s=times) for raw, times in parts]


def _times(segment: Element) -> tuple[float, ...]:
    """When each point was recorded; empty where one does not tell. [epoch s]"""
    told = [element_text(point, "time") for point in children(segment, "trkpt")]
    try:
        return tuple(datetime.fromisoformat(text).timestamp() for text in told)
    except (ValueError, OverflowError):
        return ()


def _words(element: Element) -> dict[str, str]:
    return {
        "name": element_text(element, "name")[:LONGEST_NAME],
        "text": element_text(element, "desc", "cmt")[:LONGEST_TEXT],
        "type": element_text(element, "type")[:LONGEST_NAME].lower(),
        "sym": element_text(element, "sym")[:LONGEST_NAME],
    }


def _raw(words: dict[str, str], shape: str, lines: tuple[Places, ...], part: str = "") -> Raw:
    kind = words["type"].removesuffix(AREA)
    return Raw(
        name=f"{words['name']}{part}" if words["name"] else "",
        shape=shape,
        lines=lines,
        text=words["text"],
        hints=tuple(filter(None, (kind, words["sym"]))),
        symbol=words["sym"],
        kind=kind if kind in KINDS and shape in KINDS[kind].shapes else "",
    )


def _line(element: Element, name: str) -> Places:
    return [_place(point) for point in children(element, name)]


def _place(point: Element) -> tuple[str, str]:
    return attribute(point, "lon"), attribute(point, "lat")


def write_gpx(document: dict) -> bytes:
    """A document's features as GPX 1.1: points as waypoints, the rest as tracks.

    Args:
        document: a GeoJSON FeatureCollection whose features have a kind and a name.
    """
    root = Element("gpx", {"version": "1.1", "creator": CREATOR, "xmlns": NAMESPACE})
    name = (document.get("property") or {}).get("name")
    if name:
        SubElement(SubElement(root, "metadata"), "name").text = _xml(name)
    items = document["features"]
    for item in items:
        if item["geometry"]["type"] == POINT:
            _say(_point(root, "wpt", item["geometry"]["coordinates"]), item)
    for item in items:
        if item["geometry"]["type"] != POINT:
            _write_track(root, item)
    indent(root, " ")
    return tostring(root, encoding="utf-8", xml_declaration=True) + b"\n"


def _write_track(root: Element, item: dict) -> None:
    geometry = item["geometry"]
    track = SubElement(root, "trk")
    _say(track, item)
    is_line = geometry["type"] == LINE
    for line in [geometry["coordinates"]] if is_line else geometry["coordinates"]:
        segment = SubElement(track, "trkseg")
        for place in line:
            _point(segment, "trkpt", place)


def _say(element: Element, item: dict) -> None:
    """Name, notes and kind, in the order that the schema asks for."""
    members = item["properties"]
    SubElement(element, "name").text = _xml(members.get("name") or item.get("id") or "")
    if members.get("notes"):
        SubElement(element, "desc").text = _xml(members["notes"])
    area = AREA if item["geometry"]["type"] == POLYGON else ""
    SubElement(element, "type").text = f"{members['kind']}{area}"


def _point(parent: Element, name: str, place: list) -> Element:
    lon, lat = place[:2]
    lon = -180.0 if lon == 180 else lon  # the schema's longitudes end before 180
    return SubElement(parent, name, {"lat": f"{lat:.9f}", "lon": f"{lon:.9f}"})


def _xml(text: str) -> str:
    return NOT_XML.sub("\ufffd", text)
