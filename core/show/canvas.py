"""A sheet of SVG: local metres to the sheet's own units, shapes, words that do not collide.

Its elements are made by `core.show.svg`, which escapes every word.
"""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from core.show.fitting import cut_to, narrowed, width_of
from core.show.svg import drawing, element, group, num

Floats = npt.NDArray[np.float64]
Box = tuple[float, float, float, float]  # left, top, right, bottom

GAP = 3.0
EDGE = 2.0
MOST_WIDE = 0.46  # of the sheet, that a line of words takes
LEAST_SMALLER = 0.8  # as small as words that must be there are made before they are cut
SHORT_ENOUGH = 125.0  # for words that may be left out: they take no room from others
RINGS = (0.0, 1.0, 2.2, 3.6, 5.2)  # how far off a label may stand, in its own heights
NEAR_RINGS = 2  # of them, for words that may be left out
NO_LEAD = 12.0  # from farther off a thin line leads to the place
FAR_COSTS = 3.0  # area that a label would rather hide than stand a unit farther off
LINE_STEP, LINE_HALF = 8.0, 2.0
OUTSIDE = 10.0  # a mark this far off the sheet may still reach into it


def overlaps(boxes: Sequence[Box], others: "Boxes") -> Floats:
    """Area that each of some boxes shares with all of others. Shape (box,)."""
    a, b = np.array(boxes)[:, None, :], others.array()
    wide = np.minimum(a[..., 2], b[:, 2]) - np.maximum(a[..., 0], b[:, 0])
    high = np.minimum(a[..., 3], b[:, 3]) - np.maximum(a[..., 1], b[:, 1])
    return (np.maximum(wide, 0.0) * np.maximum(high, 0.0)).sum(axis=1)


def _off_a_box(at: tuple[float, float], box: Box) -> float:
    """How far a point lies off a box."""
    return math.hypot(
        max(box[0] - at[0], 0.0, at[0] - box[2]), max(box[1] - at[1], 0.0, at[1] - box[3])
    )


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
    of the sheet in its own units; `margin` the height of a strip below the ground. North
    is up, both axes have one scale.
    """

    view_m: Box
    width: float
    name: str = "m"  # of its patterns, so that two sheets fit on one page
    margin: float = 0.0
    parts: list[str] = field(default_factory=list)
    taken: Boxes = field(default_factory=Boxes)  # by marks and words
    written: Boxes = field(default_factory=Boxes)  # by words

    @property
    def scale(self) -> float:
        """Sheet units per metre."""
        return self.width / (self.view_m[2] - self.view_m[0])

    @property
    def ground_height(self) -> float:
        """Of the part that shows ground."""
        return (self.view_m[3] - self.view_m[1]) * self.scale

    @property
    def height(self) -> float:
        return self.ground_height + self.margin

    def xy(self, points_m) -> Floats:
        """Local metres (point, 2) to sheet units (point, 2)."""
        points = np.atleast_2d(np.asarray(points_m, float))
        at = np.empty((len(points), 2))
        at[:, 0], at[:, 1] = points[:, 0] - self.view_m[0], self.view_m[3] - points[:, 1]
        return at * self.scale

    def shows(self, points_m) -> bool:
        """Whether the box round some points in local metres meets the sheet."""
        at = self.xy(points_m)
        before, past = at.max(axis=0), at.min(axis=0) - (self.width, self.ground_height)
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

    def block_along(self, line_m) -> None:
        """Keeps labels off a line where there is room elsewhere. Args: local metres."""
        at = self.xy(line_m)
        for a, b in itertools.pairwise(at):
            count = int(math.hypot(*(b - a)) // LINE_STEP) + 1
            for x, y in a + np.linspace(0, 1, count + 1)[:, None] * (b - a):
                self.block((x - LINE_HALF, y - LINE_HALF, x + LINE_HALF, y + LINE_HALF))

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
        """Words beside a point, where they touch no others.

        Args: the point in sheet units; one or two lines, which are cut to the sheet; font
        size; whether it may lie over marks and stand far off, a line leading to it; how far
        off; whether the point itself may be covered.
        Returns: whether it was drawn: not where there is no room free of words.
        """
        bold = style.get("font_weight") == "bold"
        most = self.width * MOST_WIDE if must else min(self.width * MOST_WIDE, SHORT_ENOUGH)
        if must:  # rather a little smaller than cut
            size *= narrowed(lines, size, most, LEAST_SMALLER, bold=bold)
        lines = [cut_to(line, size, most, bold=bold) for line in lines]
        wide = max(width_of(line, size, bold=bold) for line in lines)
        high = size * 1.15 * len(lines)
        rings = RINGS if must else RINGS[:NEAR_RINGS]
        boxes = [b for b in self._places(at, wide, high, off, rings, middle) if self._inside(b)]
        if not boxes and must:
            every = self._places(at, wide, high, off, rings, middle)
            boxes = [self._pushed_in(box) for box in every]
        box = self._freest(at, boxes, must=must)
        if box is None:
            return False
        self._lead(at, box, off, style)
        room = (box[0] - GAP / 2, box[1], box[2] + GAP / 2, box[3])
        self.taken.append(room)
        self.written.append(room)
        for i, line in enumerate(lines):
            baseline = box[1] + size * (0.92 + 1.15 * i)
            middle_x = (box[0] + box[2]) / 2
            self.words(middle_x, baseline, line, size, text_anchor="middle", **style)
        return True

    def _freest(self, at, boxes: list[Box], *, must: bool) -> Box | None:
        """The box that hides least and lies nearest; none over words, nor marks unless it must."""
        if not boxes:
            return None
        grown = [(b[0] - GAP / 2, b[1], b[2] + GAP / 2, b[3]) for b in boxes]
        free = overlaps(grown, self.written if must else self.taken) <= 0
        if not free.any():
            return None
        far = np.array([_off_a_box(at, box) for box in boxes])
        worse = overlaps(boxes, self.taken) + FAR_COSTS * far
        return boxes[int(np.argmin(np.where(free, worse, np.inf)))]

    def _lead(self, at: tuple[float, float], box: Box, off: float, style: dict) -> None:
        """A thin line from words that stand far off to their place."""
        if _off_a_box(at, box) > off + NO_LEAD:
            x = min(max(at[0], box[0]), box[2])
            y = min(max(at[1], box[1]), box[3])
            line = f"M{num(at[0])},{num(at[1])} L{num(x)},{num(y)}"
            self.add("path", d=line, fill="none", stroke=style.get("fill"), stroke_width=0.7)

    def _places(self, at, wide: float, high: float, off: float, rings, middle: bool) -> list[Box]:
        x, y = at
        corners = [(x - wide / 2, y - high / 2)] if middle else []
        for ring in rings:
            far = off + ring * high
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
        right, bottom = self.width - EDGE, self.ground_height - EDGE
        return box[0] >= EDGE and box[1] >= EDGE and box[2] <= right and box[3] <= bottom

    def _pushed_in(self, box: Box) -> Box:
        wide, high = box[2] - box[0], box[3] - box[1]
        left = min(max(box[0], EDGE), max(self.width - wide - EDGE, EDGE))
        top = min(max(box[1], EDGE), max(self.ground_height - high - EDGE, EDGE))
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
