"""The sheet of a day's round: what to bring, then stop by stop what to do, with boxes to tick."""

import dataclasses
import datetime
from zoneinfo import ZoneInfo

from core.chores.beside import features_by_id
from core.chores.rounds import Round
from core.ground.layout import Property
from core.say.work.chores import day_text, title
from core.say.work.rounds import ORDER, care_of, leg_text, stop_said, summed_up, to_bring
from core.show.fitting import fitted
from core.show.template import filled

# prints by how many letters one sheet holds in each, the largest first
PRINTS = ((2000, ""), (3600, "small"), (6600, "smallest"), (1_000_000, "smallest tight"))
NAME_LETTERS = 26  # in the two smallest


def round_sheet(found: Round, ground: Property, today: datetime.date, now_s: float) -> str:
    """The sheet as a whole HTML document of one page, without script.

    Args: the round; its ground; the day it is for; when it is made [epoch s].
    """
    made = datetime.datetime.fromtimestamp(now_s, tz=ZoneInfo(ground.timezone)).date()
    stops = [stop_said(stop, ground, today) for stop in found.stops]
    print_ = _print(stops)
    if "smallest" in print_:
        ground = _short_names(ground)
        stops = [stop_said(stop, ground, today) for stop in found.stops]
    return filled(
        "round.html",
        name=ground.name,
        day=f"{today:%a} {day_text(today)}",
        summed_up=summed_up(found, ground),
        bring=to_bring(found),
        care=care_of(found, ground),
        stops=stops,
        start=ground.name_of(found.start),
        back=leg_text(found.back, ground),
        nowhere=[title(job, ground) for job in found.nowhere],
        order=ORDER,
        made=day_text(made),
        print=print_,
    )


def _print(stops) -> str:
    """How large it is printed, by how much there is to say."""
    letters = sum(
        len(s.name) + len(s.walk) + 60 + sum(len(job) + len(about) + 40 for job, about in s.jobs)
        for s in stops
    )
    return next(name for most, name in PRINTS if letters <= most)


def _short_names(ground: Property) -> Property:
    """The ground with names that fit a narrow column, each still told from the others."""
    features = features_by_id(ground)
    names = fitted([f.name or f.id for f in features.values()], NAME_LETTERS)
    short = dict(zip(features, names, strict=True))

    def shortened(group):
        return tuple(dataclasses.replace(f, name=short[f.id]) for f in group)

    return dataclasses.replace(
        ground,
        stands=shortened(ground.stands),
        lanes=shortened(ground.lanes),
        corridors=shortened(ground.corridors),
        areas=shortened(ground.areas),
        marks=shortened(ground.marks),
    )
