"""A season's report as plain data: for `season --json`, and its shares as CSV."""

import csv
import dataclasses
import io

import numpy as np

from core.harmless import csv_cell
from core.season.gaps import Hole
from core.season.next_stand import TREE, NextStand
from core.season.one_stand import OUT_WORDS
from core.season.report import SeasonReport, StandReport, month_order, shares, why_out
from core.season.review import SeasonAnswer
from core.season.saw_work import Job

SHARE_DIGITS = 4
PLACE_DIGITS = 6  # of a degree: a tenth of a metre
CSV_COLUMNS = (
    *("id", "name", "sit", "month", "sits", "go", "cant_call", "stay_out"),
    *(f"out_{word}" for word in OUT_WORDS[1:]),
)


def season_dict(report: SeasonReport) -> dict:
    """The answer of `season --json`. Args: the report."""
    return {
        "property_name": report.property_name,
        "history": report.history,
        "notes": list(report.notes),
        "years": list(report.years),
        "spread": "no spread: one year" if report.one_year else "between years",
        "stands": [_stand(stand) for stand in report.stands],
        "property": _ground(report),
        "candidates": [_spot(spot) for spot in report.next_stands],
        "ways_in": [{"id": id_, "sits_lost": lost} for id_, lost in report.ways_in],
        "saw_work": [_job(job) for job in report.jobs],
    }


def _rounded(value) -> dict:
    """A dataclass of numbers as a dict, its shares rounded."""
    return {
        name: round(x, SHARE_DIGITS) if isinstance(x, float) else x
        for name, x in dataclasses.asdict(value).items()
    }


def _stand(stand: StandReport) -> dict:
    return {
        "id": stand.id,
        "name": stand.name,
        **_rounded(stand.whole),
        **{sit: _rounded(some) for sit, some in stand.by_sit.items()},
        "months": {
            f"{month:02d}": {sit: _rounded(some) for sit, some in by_sit.items()}
            for month, by_sit in stand.by_month.items()
        },
        "years": None if stand.years is None else _rounded(stand.years),
        "why_out": _rounded(stand.why_out),
        "not_clean": _rounded(stand.not_clean),
        "hours": _rounded(stand.hours),
        "only_stand_sits": stand.only_stand_sits,
    }


def _ground(report: SeasonReport) -> dict:
    ground = report.ground
    some, left = ground.some_stand_go, ground.without_stand
    return {
        "sits": ground.sits,
        "sits_without_wind": ground.sits_without_wind,
        "days_without_sun": ground.days_without_sun,
        "some_stand_go": None if some is None else round(some, SHARE_DIGITS),
        "watch_seats": list(ground.watch_seats),
        **{sit: _rounded(some) for sit, some in ground.by_sit.items()},
        "left": [dataclasses.asdict(row) for row in ground.left],
        "holes": [_hole(hole) for hole in ground.holes],
        "smallest_set": list(ground.smallest_set),
        "without_stand": {
            "still": left.still,
            "unsure": left.unsure,
            "wrong": left.wrong,
            "shut": left.shut,
        },
    }


def _hole(hole: Hole) -> dict:
    speeds = None if hole.low_mph is None else [hole.low_mph, hole.high_mph]
    return {
        "from_deg": hole.from_deg,
        "to_deg": hole.to_deg,
        "speed_mph": speeds,
        "sit": hole.sit,
        "sits_lost": hole.sits_lost,
    }


def _spot(spot: NextStand) -> dict:
    lon, lat = (round(x, PLACE_DIGITS) for x in spot.lonlat)
    return {
        "lon": lon,
        "lat": lat,
        "place": spot.place,
        "seat": spot.seat,
        "corridor": spot.corridor,
        "adds_sits": spot.adds_sits,
        "adds_share": round(spot.adds_share, SHARE_DIGITS),
        "of_sits": spot.of_sits,
        "lane": spot.lane,
        "cut_yd": spot.cut_yd,
        "why": f"{spot.why}; {TREE}",
    }


def _job(job: Job) -> dict:
    return {**dataclasses.asdict(job), "sits_per_yard": round(job.per_yard, SHARE_DIGITS)}


def season_csv(answer: SeasonAnswer) -> str:
    """The shares of every stand by sit and month, as CSV. Args: the answer."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(CSV_COLUMNS)
    for review in answer.reviews:
        for stand, sat in zip(answer.stands, review.by_stand, strict=True):
            names = [csv_cell(stand.id), csv_cell(stand.name)]
            for month in (None, *month_order(answer)):
                some = np.ones(len(review.sits), bool) if month is None else review.month == month
                row = [*names, review.sit, month or "all"]
                row += _rounded(shares(sat.group[some])).values()
                writer.writerow([*row, *_rounded(why_out(sat.out[some])).values()])
    return text.getvalue()
