"""The air ledger as straight bars: a row for each bed and plot, a bar for each week."""

import datetime

from core.ground.layout import Property
from core.log.ledger import Ledger
from core.say.log.ledger import span_text
from core.show.canvas import Sheet
from core.show.fitting import fitted
from core.show.palette import Palette
from core.show.svg import num

WIDTH, ROW, HEAD, FOOT = 390.0, 58.0, 6.0, 22.0
LEFT, HIGHEST = 12.0, 30.0
LEAST_SCALE_MIN = 60.0  # a bar of an hour is never taller than the row
NAME_LETTERS = 30
DATE_PX = 62.0  # room for a date below


def weeks_of(first: datetime.date, last: datetime.date) -> list[datetime.date]:
    """The Mondays of the weeks that hold some days. Args: first and last local date."""
    monday = first - datetime.timedelta(days=first.weekday())
    n = (last - monday).days // 7 + 1
    return [monday + datetime.timedelta(weeks=i) for i in range(n)]


def minutes_by_week(ledger: Ledger, weeks: list[datetime.date]) -> dict[str, list[float]]:
    """Minutes of each place in each week, the place with the most first.

    Args: the ledger of those weeks; their Mondays.
    """
    found = {place: [0.0] * len(weeks) for place in ledger.minutes()}
    for lay in ledger.lays:
        found[lay.place][(lay.date - weeks[0]).days // 7] += lay.minutes
    return found


def ledger_bars(
    ledger: Ledger, ground: Property, first: datetime.date, last: datetime.date, colours: Palette
) -> str:
    """Bars of one blue on a line for each place; the tallest is named in hours.

    Args: the ledger; the property; first and last local date; colours. Returns: one <svg>.
    """
    weeks = weeks_of(first, last)
    told = minutes_by_week(ledger.since(first, last), weeks)
    names = fitted([ground.name_of(place) for place in told], NAME_LETTERS)
    most = max([LEAST_SCALE_MIN, *(m for row in told.values() for m in row)])
    height = HEAD + ROW * len(told) + FOOT
    sheet = Sheet((0.0, 0.0, WIDTH, height), WIDTH, "ledger")
    step = (WIDTH - 2 * LEFT) / len(weeks)
    for i, (name, row) in enumerate(zip(names, told.values(), strict=True)):
        base = HEAD + ROW * (i + 1) - 8
        sheet.words(
            LEFT, base - HIGHEST - 6, f"{name}, {span_text(sum(row))}", 12, fill=colours.ink
        )
        sheet.add("path", d=f"M{num(LEFT)},{num(base)} H{num(WIDTH - LEFT)}", stroke=colours.line)
        for k, minutes in enumerate(row):
            if minutes:
                tall = max(1.0, HIGHEST * minutes / most)
                sheet.add(
                    "rect",
                    x=LEFT + k * step + 1,
                    y=base - tall,
                    width=max(2.0, step - 2),
                    height=tall,
                    fill=colours.blue,
                )
    every = max(1, round(DATE_PX / step + 0.49))
    for k in range(0, len(weeks), every):
        at = LEFT + k * step
        day = f"{weeks[k].day} {weeks[k]:%b}"
        sheet.words(at, height - 6, day, 10, fill=colours.soft)
    return sheet.svg(_described(told, ground), paper=colours.paper)


def _described(told: dict[str, list[float]], ground: Property) -> str:
    """What the bars show, in words."""
    each = [f"{ground.name_of(place)} {span_text(sum(row))}" for place, row in told.items()]
    return "Hours of your air by place and week: " + ("; ".join(each) or "none")
