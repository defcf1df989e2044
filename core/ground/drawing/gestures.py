"""What a finished gesture on the map does to a draft's document.

A gesture comes from the screen as plain values: what was done, to which feature, and
where. What it may not do is refused with the reason, and the document stays.
"""

import math
from dataclasses import dataclass
from typing import Any

from core.errors import BadProperty
from core.ground.drawing.edits import added, feature_of, removed, reshaped
from core.ground.drawing.snapping import snapped, told_name
from core.ground.fields import shown
from core.ground.kinds import KINDS, LINE, POINT, POLYGON

DEPTHS: dict[Any, int] = {POINT: 1, LINE: 2, POLYGON: 3}
FARTHEST_M = 200.0  # however far the map is zoomed out, no end jumps farther


@dataclass(frozen=True)
class Acted:
    """The document after a gesture, what was done in words, and what is now chosen."""

    document: dict
    words: str
    picked: str


def acted(document: dict, gesture: dict) -> Acted:
    """The document after one gesture.

    Args:
        document: a property's document.
        gesture: `act` (add, shape or delete) with `kind` and `geometry`, `id` and
            `geometry`, or `id`; `within_m` is how near an end must lie to be joined. [m]

    Raises: BadProperty for what a file may not hold, and for gestures that make no sense.
    """
    act = gesture.get("act")
    if act == "add":
        return _add(document, gesture)
    if act == "shape":
        return _shape(document, gesture)
    if act == "delete":
        named = named_of(document, str(gesture.get("id")))
        return Acted(removed(document, str(gesture.get("id"))), f"took out {named}", "")
    raise BadProperty(f"the map sent {shown(act)}, which is nothing to do", "", "Try it again.")


def named_of(document: dict, id_: str) -> str:
    """How a feature is named in sentences, by its id. Raises: BadProperty."""
    feature = feature_of(document, id_)
    if feature is None:
        raise BadProperty(f'nothing has the id "{id_}"', "", "It may be gone: look at the map.")
    return told_name(feature)


def _add(document: dict, gesture: dict) -> Acted:
    kind = gesture.get("kind")
    if kind not in KINDS:
        raise BadProperty(f"the map sent the kind {shown(kind)}", "", "Try it again.")
    line = snapped(document, kind, _geometry(gesture), _within_m(gesture))
    result, id_ = added(document, kind, line.geometry)
    return Acted(result, "; ".join((f"added {named_of(result, id_)}", *line.joins)), id_)


def _shape(document: dict, gesture: dict) -> Acted:
    id_ = str(gesture.get("id"))
    named, feature = named_of(document, id_), feature_of(document, id_)
    kind = feature["properties"]["kind"] if feature else ""
    line = snapped(document, kind, _geometry(gesture), _within_m(gesture), own_id=id_)
    result = reshaped(document, id_, line.geometry)
    return Acted(result, "; ".join((f"moved {named}", *line.joins)), id_)


def _within_m(gesture: dict) -> float:
    value = gesture.get("within_m")
    if not isinstance(value, (int, float)) or not math.isfinite(value):
        return 0.0
    return min(FARTHEST_M, max(0.0, float(value)))


def _geometry(gesture: dict) -> dict:
    """A geometry with numbers where numbers belong; its sense is checked further in."""
    geometry = gesture.get("geometry")
    kind = geometry.get("type") if isinstance(geometry, dict) else None
    places = geometry.get("coordinates") if isinstance(geometry, dict) else None
    if kind not in DEPTHS or not _is_nested(places, DEPTHS[kind]):
        raise BadProperty(f"the map sent the place {shown(geometry)}", "", "Try it again.")
    return {"type": kind, "coordinates": places}


def _is_nested(value: Any, depth: int) -> bool:
    """Whether it is numbers in lists, just so deep."""
    if depth:
        return (
            isinstance(value, list) and bool(value) and all(_is_nested(v, depth - 1) for v in value)
        )
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
