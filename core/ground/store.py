"""Opening and saving property files: nothing is lost, and nobody overwrites silently."""

import hashlib
from dataclasses import dataclass
from pathlib import Path

from core.errors import BadProperty
from core.ground.jsontext import MOST_BYTES, read_json
from core.ground.layout import Property
from core.ground.parse import property_from_document, read_document

__all__ = ["Opened", "open_property", "parse_property", "property_from_document"]
DEMO = Path(__file__).resolve().parents[2] / "demo_property.json"


@dataclass(frozen=True)
class Opened:
    """A property file as it was opened.

    `document` is the whole parsed file, with every member that the program does not
    know, in order, and rings wound as they should be. `content_hash` is the SHA-256 of
    the bytes that were read. `mended` says what was put right or is not used.
    """

    property: Property
    document: dict
    path: Path | None
    content_hash: str
    read_only: bool
    mended: tuple[str, ...]


def content_hash(data: bytes) -> str:
    """SHA-256 of some bytes, as hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def parse_property(data: bytes, where: str, path: Path | None = None) -> Opened:
    """A property from the bytes of its file. Raises: BadProperty.

    Args:
        data: the whole file.
        where: its name, for messages.
        path: where it was read from; None for bytes that have no file.
    """
    read = read_document(read_json(data, where), where)
    is_demo = path is not None and path.resolve() == DEMO
    return Opened(
        read.property, read.document, path, content_hash(data), read.newer or is_demo, read.mended
    )


def open_property(path: str | Path) -> Opened:
    """A property from its file. Raises: BadProperty."""
    path = Path(path)
    try:
        size = path.stat().st_size
        data = path.read_bytes() if size <= MOST_BYTES else b" " * (MOST_BYTES + 1)
    except OSError as error:
        raise BadProperty(
            f"{path.name} cannot be opened: {error.strerror or error}", str(path),
            "Check the name, and that it is a file you may read.",
        ) from None  # fmt: skip
    return parse_property(data, path.name, path)
