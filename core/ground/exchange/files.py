"""Map files of other programs, in and out: GeoJSON, GPX, KML and KMZ.

`read_foreign` shows what a file brings, `take` and `take_all` make features of it,
`write_gpx` and `write_geojson` give a property's features to other programs.
"""

from pathlib import Path

from core.ground.exchange.any_geojson import read_geojson
from core.ground.exchange.as_features import take, take_all, unsuited
from core.ground.exchange.gpx import read_gpx, write_gpx
from core.ground.exchange.items import MOST_BYTES, BadMap, Incoming, Raw, arrived, check_counts
from core.ground.exchange.kml import read_kml, unpack_kmz
from core.ground.exchange.xmltext import read_xml, tag
from core.ground.fields import printable, shown
from core.ground.files.output import check_output, write_output
from core.ground.jsontext import BOM, read_json, write_json
from core.ground.kinds import KINDS
from core.ground.parse import FORMAT, Read, read_document

__all__ = [
    "BadMap",
    "Incoming",
    "convert",
    "read_foreign",
    "take",
    "take_all",
    "unsuited",
    "write_geojson",
    "write_gpx",
]
ZIP = b"PK\x03\x04"
OUT = {".gpx": "GPX", ".geojson": "GeoJSON", ".json": "GeoJSON"}


def read_foreign(data: bytes, file_name: str) -> list[Incoming]:
    """What a map file brings, in its order; nothing is taken yet.

    The format is told by the content, not by the name. A property file brings its
    features, without its rules.

    Args:
        data: the whole file.
        file_name: for messages.

    Raises: BadMap for a file that cannot be read or holds nothing; BadProperty for
        JSON that is broken.
    """
    raws = _raws(data, file_name)
    if not raws:
        raise BadMap(
            "the file has no points, lines or areas in it",
            file_name,
            "Save waypoints, tracks or places from the map program into it.",
        )
    check_counts(raws, file_name)
    return [arrived(raw, number) for number, raw in enumerate(raws, 1)]


def _raws(data: bytes, where: str) -> list[Raw]:
    if len(data) > MOST_BYTES:
        raise BadMap(
            f"the file has {len(data):,} bytes, over {MOST_BYTES:,}",
            where,
            "Bring in the part of it that is this ground.",
        )
    if data.startswith(ZIP):
        documents = unpack_kmz(data, where)
        return [raw for document in documents for raw in _from_xml(document, where)]
    if _is_json(data):
        return read_geojson(read_json(data, where), where)
    if data.removeprefix(BOM).lstrip()[:1] == b"<" or data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return _from_xml(data, where)
    raise BadMap(
        f"the file starts with {data[:12]!r}: it is not GeoJSON, GPX, KML or KMZ",
        where,
        "Save it in one of these from the map program.",
    )


def _from_xml(data: bytes, where: str) -> list[Raw]:
    root = read_xml(data, where)
    readers = {"gpx": read_gpx, "kml": read_kml}
    if tag(root) not in readers:
        raise BadMap(
            f"the file is XML of the kind {shown(tag(root))}, not GPX or KML",
            where,
            "Save it as GPX, KML or GeoJSON.",
        )
    return readers[tag(root)](root)


def write_geojson(document: dict) -> bytes:
    """A document's features as plain GeoJSON, all their properties kept.

    The property's rules stay behind: they hold people and their phones.

    Args:
        document: a property's document, or any FeatureCollection.
    """
    return write_json({"type": "FeatureCollection", "features": document["features"]})


def convert(
    in_path: str | Path, out_path: str | Path, kind: str | None = None, *, replace: bool = False
) -> list[str]:
    """Turns one map file into another and says what was done, in lines.

    A property file goes out as it is; things of other programs get a kind, an id and a
    name. The new file's suffix tells its format: .gpx, .geojson or .json.

    Args:
        in_path: a property file, GeoJSON, GPX, KML or KMZ.
        out_path: the new file.
        kind: take everything that suits as this kind; None takes each by its guess.
        replace: whether a file that is there may be overwritten, unless it is a property.

    Raises: BadMap, BadProperty, BadRequest.
    """
    in_path, out_path = Path(in_path), Path(out_path)
    _check_out(out_path, kind)
    check_output(out_path, replace=replace, inputs=(in_path,))
    document, lines = _converted(_read(in_path), in_path.name, kind)
    is_gpx = OUT[out_path.suffix.lower()] == "GPX"
    data = write_gpx(document) if is_gpx else write_geojson(document)
    write_output(out_path, data, replace=replace, inputs=(in_path,))
    return [*lines, f"{len(document['features'])} features written to {out_path.name}"]


def _check_out(path: Path, kind: str | None) -> None:
    if path.suffix.lower() not in OUT:
        raise BadMap(
            f"{shown(path.suffix)} is not a format to write",
            path.name,
            f"Name it with one of: {', '.join(OUT)}.",
        )
    if kind is not None and kind not in KINDS:
        raise BadMap(f"{shown(kind)} is not a kind", "", f"Kinds are: {', '.join(KINDS)}.")


def _read(path: Path) -> bytes:
    try:
        with path.open("rb") as stream:
            return stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise BadMap(
            f"the file cannot be opened: {error.strerror or error}",
            str(path),
            "Check the name, and that it is a file you may read.",
        ) from None


def _own(data: bytes, where: str) -> Read | None:
    """A property file of this program; None for other files."""
    if not _is_json(data):
        return None
    document = read_json(data, where)
    rules = document.get("property")
    is_own = isinstance(rules, dict) and rules.get("format") == FORMAT
    return read_document(document, where) if is_own else None


def _is_json(data: bytes) -> bool:
    return data.removeprefix(BOM).lstrip()[:1] in (b"{", b"[")


def _converted(data: bytes, where: str, kind: str | None) -> tuple[dict, list[str]]:
    own = _own(data, where) if kind is None else None
    if own is not None:
        return own.document, list(own.mended)
    incoming = read_foreign(data, where)
    chosen = [(one, kind or one.kind or "other") for one in incoming]
    faults = [unsuited(one, wanted) for one, wanted in chosen]
    taken = [pair for pair, fault in zip(chosen, faults, strict=True) if not fault]
    lines = [
        f"{printable(one.name)}: {said}"
        for one, fault in zip(incoming, faults, strict=True)
        for said in (*one.notes, *([f"{fault}: left out"] if fault else []))
    ]
    if not taken:
        raise BadMap(
            f"nothing in the file can be taken: {lines[0]}", where, "Choose another kind or file."
        )
    return {"type": "FeatureCollection", "features": take_all(taken)}, lines
