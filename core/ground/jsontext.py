"""Bytes to a JSON document and back: strict in, one feature a line out."""

import json
import math
from typing import Any

from core.errors import BadProperty
from core.ground.fields import Fault, printable, shown

MOST_BYTES = 10_000_000
MOST_DEPTH = 100
BOM = b"\xef\xbb\xbf"


def read_json(data: bytes, where: str) -> dict:
    """The document in some bytes.

    Refused: nothing, too much, not UTF-8, not JSON (with line and column), not an
    object, a name twice in one object, NaN and Infinity, numbers beyond a float, deep nesting.

    Raises: BadProperty.
    """
    if len(data) > MOST_BYTES:
        raise BadProperty(
            f"the file has {len(data):,} bytes, over {MOST_BYTES:,}",
            where,
            "Take out what is not this ground, or thin long tracks.",
        )
    if not data.strip():
        raise BadProperty(
            f"the file is empty ({len(data)} bytes)", where, "Open an earlier version of it."
        )
    try:
        document = json.loads(
            _decoded(data, where),
            object_pairs_hook=_object,
            parse_constant=_constant,
            parse_float=_float,
            parse_int=_int,
        )
    except Fault as fault:
        raise BadProperty(fault.text(), where, fault.fix) from None
    except json.JSONDecodeError as error:
        raise BadProperty(
            f"not JSON at line {error.lineno}, column {error.colno}: {error.msg}",
            where,
            "The file may be cut off or mistyped: mend that place, or open an earlier version.",
        ) from None
    except RecursionError:
        raise _too_deep(where) from None
    if not isinstance(document, dict):
        raise BadProperty(
            f"the file holds {shown(document)}, not an object",
            where,
            "It must start with { and be a GeoJSON FeatureCollection.",
        )
    _check_depth(document, where)
    _check_characters(document, data, where)
    return document


def _decoded(data: bytes, where: str) -> str:
    try:
        return data.removeprefix(BOM).decode("utf-8")
    except UnicodeDecodeError as error:
        raise BadProperty(
            f"byte {error.start} is 0x{data.removeprefix(BOM)[error.start]:02x}, not UTF-8 text",
            where,
            "Save the file as UTF-8.",
        ) from None


def _object(pairs: list[tuple[str, Any]]) -> dict:
    members = dict(pairs)
    if len(members) == len(pairs):
        return members
    names = [name for name, _ in pairs]
    twice = next(name for name in names if names.count(name) > 1)
    told = next((f" in {shown({k: members[k]})}" for k in ("id", "name") if k in members), "")
    raise Fault(f"an object has {shown(twice)} twice{told}", "Keep one of the two.")


def _constant(word: str) -> float:
    raise Fault(f"{word} is not a number that JSON has", "Write a number, or take the member out.")


def _float(digits: str) -> float:
    value = float(digits)
    if not math.isfinite(value):
        raise Fault(f"the number {printable(digits)} is too large", "Write a smaller number.")
    return value


def _int(digits: str) -> int:
    if len(digits) > 300:
        raise Fault(f"the number {printable(digits)} is too large", "Write a smaller number.")
    return int(digits)


def _too_deep(where: str) -> BadProperty:
    return BadProperty(
        f"lists and objects lie over {MOST_DEPTH} deep in each other",
        where,
        "Take out the member that nests so deep.",
    )


def _check_depth(document: Any, where: str) -> None:
    """Level by level: what nests too deep could be read, but not written again."""
    level: list[Any] = [document]
    for _ in range(MOST_DEPTH):
        inside = (v.values() if isinstance(v, dict) else v for v in level)
        level = [v for values in inside for v in values if isinstance(v, (dict, list))]
        if not level:
            return
    raise _too_deep(where)


def _check_characters(document: Any, data: bytes, where: str) -> None:
    if b"\\ud" not in data.lower():
        return
    try:
        json.dumps(document, ensure_ascii=False).encode("utf-8")
    except UnicodeEncodeError as error:
        broken = ord(error.object[error.start])
        raise BadProperty(
            f"\\u{broken:04x} is half a character", where, "Write the text with that one again."
        ) from None


def write_json(document: dict) -> bytes:
    """A document as bytes: members in their order, one feature a line.

    Raises: ValueError for NaN and Infinity, which no JSON has.
    """
    members = [
        f"{_text(name)}: {_features(value) if name == 'features' else _text(value, indent=1)}"
        for name, value in document.items()
    ]
    return ("{\n" + ",\n".join(members) + "\n}\n").encode("utf-8")


def _features(features: list) -> str:
    return "[\n" + ",\n".join(_text(feature) for feature in features) + "\n]"


def _text(value: Any, indent: int | None = None) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, indent=indent)
