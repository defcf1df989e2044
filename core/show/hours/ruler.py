"""A day's light on a straight ruler of hours: plain lines, no shading, nothing ranked."""

import math

from core.say.words import at_time
from core.show.canvas import Sheet
from core.show.palette import Palette
from core.show.svg import num
from core.sit.dates import local_s
from core.sit.prepare import Sit
from core.units import SECONDS_PER_HOUR

WIDTH, HEIGHT, BASE = 390.0, 64.0, 34.0
FROM_H, TO_H = 4, 21


def day_ruler(sit: Sit, colours: Palette) -> str:
    """The date's hours from 4 to 21 with sunrise, sunset, legal light and the sit.

    Args: the sit; colours. Returns: one <svg>.
    Missing: what the day lacks (polar day, no season) is not drawn.
    """
    clock = sit.clock
    midnight = local_s(sit.timezone, clock.date, "00:00")
    sheet = Sheet((0.0, 0.0, WIDTH, HEIGHT), WIDTH, "ruler")

    def x(time_s: float) -> float:
        hours = (time_s - midnight) / SECONDS_PER_HOUR
        return 12 + (min(max(hours, FROM_H), TO_H) - FROM_H) / (TO_H - FROM_H) * (WIDTH - 24)

    sheet.add("path", d=f"M12,{num(BASE)} H{num(WIDTH - 12)}", stroke=colours.line)
    for hour in range(FROM_H, TO_H + 1):
        at = x(midnight + hour * SECONDS_PER_HOUR)
        long = 6 if hour % 3 == 0 else 3
        sheet.add("path", d=f"M{num(at)},{num(BASE)} v{long}", stroke=colours.soft)
        if hour % 3 == 0:
            label = f"{hour % 12 or 12} {'am' if hour < 12 else 'pm'}"
            sheet.words(at, BASE + 18, label, 10, fill=colours.soft, text_anchor="middle")
    if clock.start_s is not None and clock.end_s is not None:
        sat = f"M{num(x(clock.start_s))},{num(BASE)} H{num(x(clock.end_s))}"
        sheet.add("path", d=sat, stroke=colours.blue, stroke_width=4)
    for time_s, name in ((clock.day.sunrise_s, "sunrise"), (clock.day.sunset_s, "sunset")):
        if not math.isnan(time_s):
            at = x(time_s)
            sheet.add("path", d=f"M{num(at)},{num(BASE)} v-12", stroke=colours.ink)
            words = f"{name} {at_time(sit, time_s)}"
            sheet.words(at, BASE - 16, words, 10, fill=colours.ink, text_anchor="middle")
    return sheet.svg("The day's light", paper=colours.paper)
