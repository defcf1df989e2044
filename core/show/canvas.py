"""A sheet of SVG: local metres to the sheet's own units, shapes, words that do not collide.

Its elements are made by `core.show.svg`, which escapes every word.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from core.show.svg import drawing, element, group, num

Floats = npt.NDArray[np.float64]
Box = tuple[float, float, float, float]  # left, top, right, bottom

LETTER_WIDTH = 0.57  # of the font's size, sans serif, measured on the names of the demo
GAP = 3.0
EDGE = 2.0
OUTSIDE = 10.0  # a mark this far off the sheet may still reach into it


def overlaps(boxes: Sequence[Box], others: "Boxes") -> Floats:
    """Area that each of some boxes shares with all of others. Shape (box,)."""
    a, b = np.array(boxes)[:, None, :], others.array()
    wide = np.minimum(a[..., 2], b[:, 2]) - np.maximum(a[..., 0], b[:, 0])
    high = np.minimum(a[..., 3], b[:, 3]) - np.maximum(a[..., 1], b[:, 1])
    return (np.maximum(wide, 0.0) * np.maximum(high, 0.0)).sum(axis=1)


class Boxes:
    """Boxes that are taken, in an array that grows by doubling."""

    def __init__(self) -> None:
        self._held, self._n = np.empty((64, 4)), 0

    def append(self, box: Box) -> None:
        """Takes one more. Args: left, top, right, bottom."""
        if self._n == len(self._held):
            self._held = np.concatenate([self._held, np.empty_like(self._held)])
        self._held[self._n] = box
        self._n += 1

    def array(self) -> Floats:
        """All that are taken, in their order. Shape (box, 4)."""
        return self._held[: self._n]


@dataclass
class Sheet:
    """A drawing in progress.

    `view_m`: left, bottom, right, top of the ground shown, in local metres; `width`
    of the sheet in its own units. North is up, both axes have one scale.
    """

    view_m: Box
    width: float
    name: str = "m"  # of its patterns, so that two sheets fit on one page
    parts: list[str] = field(default_factory=list)
    taken: Boxes = field(default_factory=Boxes)

    @property
    def scale(self) -> float:
        """Sheet units per metre."""
        return self.width / (self.view_m[2] - self.view_m[0])

    @property
    def height(self) -> float:
        return (self.view_m[3] - self.view_m[1]) * self.scale

    def xy(self, points_m) -> Floats:
        """Local metres (point, 2) to sheet units (point, 2)."""
        points = np.atleast_2d(np.asarray(points_m, float))
        return (
            np.column_stack([points[:, 0] - self.view_m[0], self.view_m[3] - points[:, 1]])
            * self.scale
        )

    def shows(self, points_m) -> bool:
        """Whether the box round some points in local metres meets the sheet."""
        at = self.xy(points_m)
        before, past = at.max(axis=0), at.min(axis=0) - (self.width, self.height)
        return bool((before >= -OUTSIDE).all() and (past <= OUTSIDE).all())

    def add(self, tag: str, words: str = "", **attributes) -> None:
        """One more element. Args: as `element`."""
        self.parts.append(element(tag, words, **attributes))

    def path(self, points_m, *, closed: bool = False, holes_m: Sequence = (), **style) -> None:
        """A line or an area through points in local metres, with the area's holes.

        What lies off the sheet is left out, so that a large ground is a small drawing.
        """
        if not self.shows(points_m):
            return
        style.setdefault("fill", "none")
        if holes_m:
            rings = " ".join(f"M{self._steps(ring)}Z" for ring in (points_m, *holes_m))
            self.add("path", d=rings, fill_rule="evenodd", **style)
            return
        shape = "polygon" if closed else "polyline"
        self.add(shape, points=self._steps(points_m), **style)

    def _steps(self, points_m) -> str:
        return " ".join(f"{num(x)},{num(y)}" for x, y in self.xy(points_m))

    def words(self, x: float, y: float, text: str, size: float, **style) -> None:
        """Text at a place of the sheet; `y` is its baseline."""
        self.add("text", text, x=x, y=y, font_size=size, **style)

    def block(self, box: Box) -> None:
        """Keeps labels off a box."""
        self.taken.append(box)

    def label(
        self,
        at: tuple[float, float],
        lines: list[str],
        size: float,
        *,
        must: bool = False,
        off: float = 6.0,
        middle: bool = False,
        **style,
    ) -> bool:
        """Words beside a point, where they hide no others.

        Args: the point in sheet units; one or two lines; font size; whether it has to
        be there even over others; how far off; whether the point itself may be covered.
        Returns: whether it was drawn.
        """
        wide = max(len(line) for line in lines) * size * LETTER_WIDTH
        high = size * 1.15 * len(lines)
        boxes = [box for box in self._places(at, wide, high, off, middle) if self._inside(box)]
        if not boxes:
            boxes = [self._pushed_in(self._places(at, wide, high, off, middle)[0])]
        hidden = overlaps(boxes, self.taken)
        best = int(np.argmin(hidden))
        if hidden[best] > 0 and not must:
            return False
        box = boxes[best]
        self.taken.append((box[0] - GAP / 2, box[1], box[2] + GAP / 2, box[3]))
        for i, line in enumerate(lines):
            baseline = box[1] + size * (0.92 + 1.15 * i)
            middle_x = (box[0] + box[2]) / 2
            self.words(middle_x, baseline, line, size, text_anchor="middle", **style)
        return True

    def _places(self, at, wide: float, high: float, off: float, middle: bool) -> list[Box]:
        x, y = at
        corners = [(x - wide / 2, y - high / 2)] if middle else []
        for far in (off, off + high):
            side = far * 0.7
            corners += [
                (x + far, y - high / 2),
                (x - far - wide, y - high / 2),
                (x - wide / 2, y - far - high),
                (x - wide / 2, y + far),
                (x + side, y - side - high),
                (x - side - wide, y - side - high),
                (x + side, y + side),
                (x - side - wide, y + side),
            ]
        return [(a, b, a + wide, b + high) for a, b in corners]

    def _inside(self, box: Box) -> bool:
        return (
            box[0] >= 2 and box[1] >= 2 and box[2] <= self.width - 2 and box[3] <= self.height - 2
        )

    def _pushed_in(self, box: Box) -> Box:
        wide, high = box[2] - box[0], box[3] - box[1]
        left = min(max(box[0], 2), max(self.width - wide - 2, 2))
        top = min(max(box[1], 2), max(self.height - high - 2, 2))
        return (left, top, left + wide, top + high)

    def svg(self, described: str, defs: Sequence[str] = (), paper: str = "#FFFFFF") -> str:
        """The whole drawing. Args: what it shows, in words; its patterns; its ground."""
        size: dict[str, Any] = {"width": self.width, "height": self.height}
        return drawing(
            [group("defs", defs), element("rect", **size, fill=paper), *self.parts],
            described,
            **size,
            font_family="DejaVu Sans, Verdana, Helvetica, Arial, sans-serif",
        )


def nice_yards(at_most_yd: float) -> int:
    """The largest 1, 2 or 5 times a power of ten that is not over a length; at least 1."""
    if at_most_yd < 1:
        return 1
    power = 10 ** math.floor(math.log10(at_most_yd))
    return int(max(step * power for step in (1, 2, 5) if step * power <= at_most_yd))
