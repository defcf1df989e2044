"""KML 2.2 and KMZ: points, lines, areas and walked tracks in.

Source: [kml22]: coordinates are longitude,latitude[,altitude], set apart by spaces.
"""

import html
import io
import re
import struct
import zipfile
import zlib
from xml.etree.ElementTree import Element

from core.ground.exchange.items import LONGEST_NAME, LONGEST_TEXT, MOST_BYTES, BadMap, Raw
from core.ground.exchange.xmltext import children, element_text, tag
from core.ground.kinds import LINE, POINT, POLYGON

MOST_ENTRIES = 1000
MOST_UNPACKED = 50_000_000
# what the library raises for an archive whose bytes are not in order
DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    RuntimeError,
    EOFError,
    OSError,
    ValueError,
    LookupError,
    OverflowError,
)
FOLDERS = ("kml", "document", "folder")
MARKUP = re.compile(r"<[^>]*>")
ABSOLUTE = re.compile(r"[A-Za-z]:|[/\\]")
Places = list[tuple[str, str]]


def read_kml(root: Element) -> list[Raw]:
    """Placemarks of a KML document, in order; several shapes in one become several things."""
    styles = _icons(root)
    return [raw for mark, folder in _placemarks(root) for raw in _things(mark, folder, styles)]


def _icons(root: Element) -> dict[str, str]:
    """The names of icons by the id of their style, also where a map of styles leads to it."""
    styles = {one.get("id", ""): _icon(one) for one in root.iter() if tag(one) == "style"}
    for one in root.iter():
        for pair in children(one, "pair") if tag(one) == "stylemap" else ():
            if element_text(pair, "key") == "normal":
                leads_to = element_text(pair, "styleurl").lstrip("#")
                styles[one.get("id", "")] = styles.get(leads_to, "")
    return {id_: icon for id_, icon in styles.items() if icon}


def _icon(style: Element) -> str:
    """The name of a style's icon, as "parking_lot" of ".../parking_lot.png"; empty without."""
    for part in children(style, "iconstyle"):
        for icon in children(part, "icon"):
            return element_text(icon, "href").rsplit("/", 1)[-1].rsplit(".", 1)[0][:LONGEST_NAME]
    return ""


def _placemarks(root: Element) -> list[tuple[Element, str]]:
    """Each placemark with the name of its folder; without recursion, so depth is no matter."""
    found, waiting = [], [(root, "")]
    while waiting:
        element, folder = waiting.pop()
        if tag(element) == "placemark":
            found.append((element, folder))
        elif tag(element) in FOLDERS:
            name = element_text(element, "name") if tag(element) == "folder" else folder
            waiting += [(child, name) for child in reversed(element)]
    return found


def _things(mark: Element, folder: str, styles: dict[str, str]) -> list[Raw]:
    shapes = _shapes(mark)
    style = element_text(mark, "styleurl").lstrip("#")[:LONGEST_NAME]
    own = next((_icon(one) for one in children(mark, "style")), "")
    icon = own or styles.get(style, "")
    symbol = icon or style
    name, many = element_text(mark, "name")[:LONGEST_NAME], len(shapes) > 1
    # cut first: the search for markup in megabytes of "<" would not end
    text = MARKUP.sub(" ", html.unescape(element_text(mark, "description")[: 5 * LONGEST_TEXT]))
    return [
        Raw(
            name=f"{name}, part {number}" if name and many else name,
            shape=shape,
            lines=lines,
            text=" ".join(text.split()),
            hints=tuple(filter(None, (icon, style, name, folder))) if symbol or folder else (),
            symbol=symbol,
            recorded=shape == LINE and _is_track(mark),
            fault="" if lines else "has no shape that can be read",
        )
        for number, (shape, lines) in enumerate(shapes or [(POINT, ())], 1)
    ]


def _is_track(mark: Element) -> bool:
    """Whether a placemark is what a receiver has recorded."""
    return any(tag(child) in ("track", "multitrack") for child in mark)


def _shapes(mark: Element) -> list[tuple[str, tuple[Places, ...]]]:
    found: list[tuple[str, tuple[Places, ...]]] = []
    waiting = list(reversed(mark))
    while waiting:
        element = waiting.pop()
        name = tag(element)
        if name in ("multigeometry", "multitrack"):
            waiting += reversed(element)
        elif name == "point":
            found.append((POINT, (_coordinates(element),)))
        elif name == "linestring":
            found.append((LINE, (_coordinates(element),)))
        elif name == "linearring":
            found.append((POLYGON, (_coordinates(element),)))
        elif name == "polygon":
            found.append((POLYGON, _rings(element)))
        elif name == "track":
            found.append((LINE, (_track(element),)))
    return found


def _rings(polygon: Element) -> tuple[Places, ...]:
    sides = children(polygon, "outerboundaryis") + children(polygon, "innerboundaryis")
    rings = [ring for side in sides for ring in children(side, "linearring")]
    return tuple(_coordinates(ring) for ring in rings)


def _coordinates(element: Element) -> Places:
    # some programs put a space behind the comma, which the standard does not allow
    spaced = " ".join(element_text(element, "coordinates").split())
    words = spaced.replace(" ,", ",").replace(", ", ",").split(" ") if spaced else []
    return [(lon, rest.split(",")[0]) for lon, _, rest in (w.partition(",") for w in words)]


def _track(element: Element) -> Places:
    words = [(coord.text or "").split() for coord in children(element, "coord")]
    return [(word[0], word[1]) for word in words if len(word) >= 2]


def unpack_kmz(data: bytes, where: str) -> list[bytes]:
    """The KML files in a KMZ. Nothing is written, and no name in it is used as a path.

    Raises: BadMap for what is no archive, holds none, or unpacks to too much.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            _check_entries(archive.infolist(), where)
            names = [e for e in archive.infolist() if e.filename.lower().endswith(".kml")]
            if not names:
                raise BadMap("the archive holds no .kml file", where, "Save it as KMZ or KML.")
            return [_unpacked(archive, entry) for entry in names]
    except DAMAGED as error:
        raise BadMap(
            f"the archive cannot be unpacked: {error}", where, "Save it again, or as KML."
        ) from None


def _unpacked(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    with archive.open(entry) as stream:
        # no more than was declared, also where the archive lies about its size
        return stream.read(entry.file_size)


def _check_entries(entries: list[zipfile.ZipInfo], where: str) -> None:
    fix = "Save only the places, as KML."
    if len(entries) > MOST_ENTRIES:
        raise BadMap(f"the archive holds {len(entries):,} files, over {MOST_ENTRIES:,}", where, fix)
    total = sum(entry.file_size for entry in entries)
    kml = sum(e.file_size for e in entries if e.filename.lower().endswith(".kml"))
    if total > MOST_UNPACKED or kml > MOST_BYTES:
        size, most = (kml, MOST_BYTES) if kml > MOST_BYTES else (total, MOST_UNPACKED)
        raise BadMap(f"the archive unpacks to {size:,} bytes, over {most:,}", where, fix)
    for entry in entries:
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise BadMap(f"the archive packs by method {entry.compress_type}", where, fix)
        if ABSOLUTE.match(entry.filename) or ".." in re.split(r"[/\\]", entry.filename):
            raise BadMap(f"the archive names {entry.filename[:60]!r}, a path out of it", where, fix)
