"""The clock of one sit at a stand: a straight ruler of the evening, or of the morning.

Time runs down a straight line, true to scale. On its right stands where the air goes and what
lies there, on its left when it changes, and the light. A bar is full, half, hatched or open as
the marks of the verdicts are.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from core.answer.one_sit import StandSit
from core.say.pieces.stretches import Stretch, stretches
from core.say.pieces.told import ClockMark, clock_lines, clock_marks
from core.say.words import VERDICTS_SAID, clock_digits
from core.show.canvas import Sheet
from core.show.fitting import width_of
from core.show.marks import hatch
from core.show.palette import Palette
from core.show.svg import drawing, element, group, num
from core.sit.prepare import Sit
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF

TOP, BELOW, BAR, LEAD = 10.0, 8.0, 12.0, 16.0
SIZE, LINE, APART = 12.5, 15.0, 5.0
STRIP_WIDTH, STRIP_HEIGHT = 132.0, 12.0
SHORT_WORDS = {"legal light ends": "light ends"}


@dataclass(frozen=True, slots=True)
class Measure:
    """How large a clock is drawn, in the units of its sheet."""

    width: float
    left: float  # of the bar
    per_minute: float
    least_high: float
    most_high: float


SCREEN = Measure(390.0, 122.0, 1.5, 220.0, 420.0)
PAPER = Measure(390.0, 122.0, 0.8, 120.0, 200.0)


@dataclass(frozen=True, slots=True)
class _Scale:
    """From instants to the sheet."""

    first_s: int
    last_s: int
    high: float

    def y(self, time_s: float) -> float:
        return TOP + (time_s - self.first_s) / (self.last_s - self.first_s) * self.high


def dusk_clock(
    sit: Sit, seat: StandSit, colours: Palette, name: str = "clock", measure: Measure = SCREEN
) -> str:
    """The ruler of one stand in one sit, with all of it in words as its description.

    Args: the sit; the stand in it; colours; a name for its patterns; its size.
    Returns: one <svg>; empty where closed hours leave no minute.
    """
    told = stretches(sit, seat)
    if not told:
        return ""
    first_s, last_s = told[0].start_s, told[-1].end_s
    high = (last_s - first_s) / 60.0 * measure.per_minute
    scale = _Scale(first_s, last_s, min(max(high, measure.least_high), measure.most_high))
    lines = [_words(one, measure) for one in told]
    beside = _spread(told, lines, scale)
    signs = _signs(sit, seat, told)
    baselines = _baselines([scale.y(sign.time_s) for sign in signs])
    foot = max(TOP + scale.high, beside[-1] + LINE * len(lines[-1]), max(baselines, default=0.0))
    sheet = Sheet((0.0, 0.0, measure.width, foot + BELOW), measure.width, name)
    for one, words, at in zip(told, lines, beside, strict=True):
        _draw_stretch(sheet, one, words, at, (scale.y, measure.left), colours)
    for sign, baseline in zip(signs, baselines, strict=True):
        _draw_sign(sheet, sign, baseline, (scale.y, measure.left), sit.timezone, colours)
    pattern = hatch(f"{name}-unsure", colours.blue, 4, 1.6)
    return sheet.svg(" ".join(clock_lines(sit, seat)), [pattern], colours.paper)


# --- words ---


def _words(one: Stretch, measure: Measure) -> list[str]:
    """The lines beside a stretch; the first says where the air goes, and the verdict."""
    if one.is_short:
        return []
    room = measure.width - measure.left - BAR - LEAD - 2.0
    head = wrapped(f"{one.way}: {VERDICTS_SAID[one.verdict]}", room)
    return [*head, *wrapped(one.lies, room)]


def wrapped(text: str, room: float, size: float = SIZE) -> list[str]:
    """Words broken into lines that fit. Args: the words; the room [units]; the font size."""
    lines: list[str] = []
    # a distance stays with its number: "like 75 yd" is one word here
    for word in re.findall(r"like \d+ yd\S*|\S+", text):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def _spread(told: Sequence[Stretch], lines: Sequence[list[str]], scale: _Scale) -> list[float]:
    """Where the words of each stretch begin: at its middle, pushed down past the one above."""
    found, free = [], 2.0
    for one, words in zip(told, lines, strict=True):
        middle = (scale.y(one.start_s) + scale.y(one.end_s)) / 2
        at = max(free, middle - LINE * len(words) / 2)
        found.append(at)
        free = at + LINE * len(words) + (APART if words else 0.0)
    return found


def _signs(sit: Sit, seat: StandSit, told: Sequence[Stretch]) -> list[ClockMark]:
    """What is told on the left: the marks, and when a stretch begins that no mark tells."""
    marks = list(clock_marks(sit, seat))
    named = {mark.time_s for mark in marks}
    begins = [ClockMark(one.start_s, "") for one in told[1:] if one.start_s not in named]
    edges = [ClockMark(at, "") for at in (told[0].start_s, told[-1].end_s) if at not in named]
    return sorted([*marks, *begins, *edges], key=lambda mark: mark.time_s)


def _baselines(at: Sequence[float]) -> list[float]:
    """Where the words of signs stand, each below the one above."""
    found: list[float] = []
    for y in at:
        found.append(max(y + SIZE * 0.35, found[-1] + LINE if found else 0.0))
    return found


# --- drawn ---

Place = tuple[Callable[[float], float], float]  # y of an instant, left of the bar


def _draw_stretch(
    sheet: Sheet, one: Stretch, words: list[str], at: float, place: Place, colours: Palette
) -> None:
    y, left = place
    start, end = y(one.start_s), y(one.end_s)
    sheet.parts += bar((left, start, BAR, end - start), one.verdict, colours, sheet.name)
    if not words:
        return
    words_x = left + BAR + LEAD
    lead = (
        f"M{num(left + BAR + 2)},{num((start + end) / 2)} L{num(words_x - 4)},{num(at + LINE / 2)}"
    )
    sheet.add("path", d=lead, stroke=colours.line, fill="none")
    in_head = len(words) - len(wrapped(one.lies, sheet.width - words_x - 2.0))
    for i, line in enumerate(words):
        fill = colours.ink if i < in_head else colours.soft
        sheet.words(words_x, at + LINE * (i + 0.8), line, SIZE, fill=fill)


def _draw_sign(
    sheet: Sheet, sign: ClockMark, baseline: float, place: Place, timezone: str, colours: Palette
) -> None:
    y, left = place
    at, stroke = y(sign.time_s), colours.ink if sign.words else colours.line
    told_at = f"{num(left - 12)},{num(baseline - SIZE * 0.35)}"
    line = f"M{told_at} L{num(left - 3)},{num(at)} H{num(left + BAR)}"
    sheet.add("path", d=line, stroke=stroke, fill="none")
    said = SHORT_WORDS.get(sign.words, sign.words)
    told = f"{said} {clock_digits(sign.time_s, timezone)}".strip()
    fill = colours.ink if sign.words else colours.soft
    sheet.words(left - 16, baseline, told, SIZE, fill=fill, text_anchor="end")


def bar(
    box: tuple[float, float, float, float], verdict: int, colours: Palette, name: str
) -> list[str]:
    """A stretch of a ruler as elements of SVG: full, half, hatched or open, by its verdict.

    Args: left, top, width, height; the verdict; colours; the name of the sheet whose hatching
    it uses. A half bar is filled along its longer side.
    """
    x, y, wide, high = box
    fill = {CLEAN: colours.blue, CANT_CALL: f"url(#{name}-unsure)"}.get(verdict, "none")
    drawn = [element("rect", x=x, y=y, width=wide, height=high, fill=fill, stroke=colours.blue)]
    if verdict == JUST_OFF:
        stands = high > wide
        half: dict[str, Any] = {
            "y": y if stands else y + high / 2,
            "width": wide / 2 if stands else wide,
            "height": high if stands else high / 2,
        }
        drawn.append(element("rect", x=x, fill=colours.blue, **half))
    return drawn


def strip(sit: Sit, told: Sequence[Stretch], colours: Palette, name: str = "strip") -> str:
    """The stretches of a stand lying down, small, for a table of stands. One <svg>.

    Args: the sit; the stretches of one stand; colours; a name for its patterns. Missing: empty
    without stretches.
    """
    if not told:
        return ""
    first_s, last_s = told[0].start_s, told[-1].end_s
    parts = [group("defs", [hatch(f"{name}-unsure", colours.blue, 4, 1.6)])]
    across = (STRIP_WIDTH - 2.0) / (last_s - first_s)
    for one in told:
        left, right = (1.0 + (at - first_s) * across for at in (one.start_s, one.end_s))
        box = (left, 1.0, right - left, STRIP_HEIGHT - 2.0)
        parts += bar(box, one.verdict, colours, name)
    described = "; ".join(
        f"{VERDICTS_SAID[one.verdict]} until {clock_digits(one.end_s, sit.timezone)}"
        for one in told
    )
    # as wide as its column: the ends of the sit stand above its ends
    size: dict[str, Any] = {"width": STRIP_WIDTH, "height": STRIP_HEIGHT}
    return drawing(parts, described, **size, preserveAspectRatio="none")
