"""A season's report in words: what is served, what is left over and why, stand by stand."""

from collections.abc import Sequence

import numpy as np

from core.angles import HALF_WIDTH_16_DEG, POINT_WIDTH_DEG, POINTS_16
from core.answer.change import ranges_deg
from core.ground.layout import LonLat
from core.say.what_would_change import runs_text
from core.say.words import noted
from core.season.gaps import Hole
from core.season.left_over import LeftOver
from core.season.next_stand import TREE
from core.season.report import Beside, GroundReport, SeasonReport, Shares, YearSpread
from core.season.review import SeasonAnswer
from core.season.ruler import DIRECTIONS_DEG, Ruler
from core.season.saw_work import Job
from core.sit.clock import HALVES
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, WRONG
from core.weather.elsewhere import elsewhere_words, is_elsewhere
from core.weather.hours import Hours

MOST_TOLD = 4  # winds of the hole
MOST_HOLES = 10
ANY = "Any stand"


CANT_SAID = "can't call"


def other_country(weather: Hours, center: LonLat) -> str:
    """Whose wind a season has, where it is not this ground's; empty where it is, or not told.

    Args: the hours; the ground's middle.
    """
    if weather.spot is None or not is_elsewhere(weather.spot, center):
        return ""
    return f"This is not this ground's wind: {elsewhere_words(weather.spot, center)}."


def season_lines(report: SeasonReport) -> list[str]:
    """The report in plain lines. Args: the report."""
    ground = report.ground
    go = f"{at_most(report)}go"
    lines = [
        f"{report.property_name}: {ground.sits} sits, {report.history}",
        *noted(report.notes),
        *left_out_words(ground),
        f"some stand is go on {at_most(report)}{_percent(ground.some_stand_go)} of them",
        *watch_words(report),
        "",
        f"{'stand':24} {go:>10} {CANT_SAID:>10} {'stay out':>8}  morning  evening  only it",
    ]
    for row in sorted(report.stands, key=lambda r: -(r.whole.go or 0)):
        morning, evening = (_go_words(row.by_sit.get(sit)) for sit in HALVES)
        lines.append(
            f"{row.name[:24]:24} {_percent(row.whole.go):>10} {_percent(row.whole.cant_call):>10} "
            f"{_percent(row.whole.stay_out):>8}  {morning:>7}  {evening:>7}  "
            f"{row.only_stand_sits:>7}"
        )
    lines += ["", "winds that leave no stand:"]
    lines += [f"  {hole_words(h)}: {sits_words(h.sits_lost)}" for h in ground.holes[:MOST_HOLES]]
    lines.append(f"smallest set: {', '.join(ground.smallest_set) or 'none'}")
    return [*lines, *_found_lines(report), "", *told_lines(report)]


def at_most(report: SeasonReport) -> str:
    """What stands before every share of go by modelled wind; nothing else. Args: the report."""
    return "at most " if report.at_most else ""


def beside_lines(rows: Sequence[Beside]) -> list[str]:
    """Modelled and measured shares of go side by side. Args: a row for each stand."""
    head = f"{'go, by wind that is':24} {'modelled, at most':>18} {'measured':>9}"
    told = [f"{r.name[:24]:24} {_percent(r.at_most):>18} {_percent(r.measured):>9}" for r in rows]
    return ["", head, *told]


def _found_lines(report: SeasonReport) -> list[str]:
    """Next stands and winter jobs, where any were looked for and found."""
    lines = []
    if report.next_stands:
        lines += ["", "next stands:"]
    for spot in report.next_stands:
        lon, lat = spot.lonlat
        lines.append(
            f"  {lat:.5f}, {lon:.5f} by {spot.corridor}: adds {sits_words(spot.adds_sits)}; "
            f"{spot.why}; {TREE}"
        )
    if report.jobs:
        lines += ["", "saw work:"]
    return lines + [f"  {job_words(job)}" for job in report.jobs]


def _go_words(some: Shares | None) -> str:
    return _percent(None if some is None else some.go)


def _percent(share: float | None) -> str:
    return "none" if share is None else f"{share:.0%}"


def sits_words(count: int) -> str:
    """A number of sits in words. Args: the number."""
    return "1 sit" if count == 1 else f"{count} sits"


def left_out_words(ground: GroundReport) -> list[str]:
    """Sits and days that a season leaves out, as sentences. Args: the report of the ground."""
    told = []
    if sits := ground.sits_without_wind:
        told.append(f"{sits_words(sits)} without any wind {'is' if sits == 1 else 'are'} left out.")
    if days := ground.days_without_sun:
        several = "1 day is" if days == 1 else f"{days} days are"
        told.append(f"{several} left out: the sun does not both rise and set then.")
    return told


def watch_words(report: SeasonReport) -> list[str]:
    """What is said of seats to watch from; nothing where there are none. Args: the report."""
    names = [row.name or row.id for row in report.stands if row.id in report.ground.watch_seats]
    return [f"only to watch from, so it fills no hole: {', '.join(names)}"] if names else []


def job_words(job: Job) -> str:
    """A winter job in words. Args: the job."""
    gain = sits_words(job.gains_sits)
    return f"{job.words}: gains {gain} of {job.of_sits}, {job.cut_yd} yd to cut"


def hole_words(hole: Hole) -> str:
    """A hole in words. Args: the hole."""
    if hole.from_deg is None:
        return f"{hole.sit}s of calm or variable wind"
    middle = (hole.from_deg + HALF_WIDTH_16_DEG) % 360.0
    low = f"{hole.low_mph:g}"
    speed = f"over {low} mph" if hole.high_mph is None else f"{low} to {hole.high_mph:g} mph"
    return f"{hole.sit}s of {POINTS_16[int(middle // POINT_WIDTH_DEG)]} wind, {speed}"


def told_lines(report: SeasonReport) -> list[str]:
    """The hole and what would fill it. Args: the report."""
    if not report.stands:
        return ["There is no stand yet. Draw the first one on the map."]
    left = report.ground.without_stand
    return [hole_told(left), fill_told(left)]


def year_words(spread: YearSpread | None) -> str:
    """How the share with some stand differs between years; empty for one year.

    Args: the spread.
    """
    if spread is None:
        return ""
    low, high = f"{spread.lowest_go:.0%}", f"{spread.highest_go:.0%}"
    return f"{low} in the worst of {spread.years} years, {high} in the best"


def served_words(answer: SeasonAnswer, ids: Sequence[str]) -> str:
    """What the fewest stands serve. Args: the answer; their ids."""
    picked = [s.id in ids for s in answer.stands]
    if not any(picked):
        return "No stand is go in any sit."
    whole = int(answer.serves.any(axis=1).sum())
    kept = int(answer.serves[:, picked].any(axis=1).sum())
    who = "One stand alone serves" if len(ids) == 1 else f"{len(ids)} stands together serve"
    return f"{who} {kept} of these {sits_words(whole)}:"


def stand_words(answer: SeasonAnswer, ids: Sequence[str], rulers: Sequence[Ruler]) -> list[str]:
    """The winds that work at some stands, one line each. Args: the answer; ids; the winds
    that work in each kind of sit."""
    lines = []
    for at, stand in enumerate(answer.stands):
        if stand.id not in ids:
            continue
        winds = {r.sit: winds_words(r.verdict[at]) for r in rulers}
        if len(set(winds.values())) == 1:
            words = next(iter(winds.values()))
        else:
            words = ", ".join(f"{sit}s {words}" for sit, words in winds.items())
        lines.append(f"{stand.name}: {words}")
    return lines


def hole_told(left: LeftOver) -> str:
    """Where the hole is. Args: of `left_over`."""
    if not left.sits:
        return "No sit is left without a stand."
    are = "is" if left.sits == 1 else "are"
    sentences = [f"{sits_words(left.sits)} {are} left without a stand."]
    if left.still:
        of = "all" if left.still == left.sits else left.still
        sentences.append(f"In {of} of these the air is too still or light to call.")
    if left.winds:
        most = [f"{name} ({n})" for name, n in left.winds[:MOST_TOLD]]
        more = f", {len(left.winds) - MOST_TOLD} more" if len(left.winds) > MOST_TOLD else ""
        sentences.append(f"Holes by wind, in sits: {', '.join(most)}{more}.")
    else:
        sentences.append("No wind is a hole.")
    if left.unsure:
        sentences.append(
            f"In {left.unsure} the best stand can't be called: it has no way in drawn, lies in a "
            "bottom or on a slope that turns, or the wind swirls there."
        )
    if left.shut:
        sentences.append(
            f"In {left.shut} every stand is closed, not wanted or in too strong a wind."
        )
    return " ".join(sentences)


def fill_told(left: LeftOver) -> str:
    """What could fill it. Args: of `left_over`."""
    if left.winds:
        return f"Another stand or way in, for {left.winds[0][0]} wind first."
    if left.shut:
        return "Open a stand that is closed or not wanted then, where that can be."
    if left.still:
        return "No new stand fills still air. A new one gives a second choice."
    return "Nothing is needed for the wind."


def winds_words(row) -> str:
    """The winds that work, in words. Args: a stand's verdicts by direction, shape (36,)."""
    row = np.asarray(row)
    works = np.isin(row, (CLEAN, JUST_OFF))
    if works.all():
        return "any wind"
    if not works.any():
        return "can't call" if (row == CANT_CALL).all() else "none"
    ends = DIRECTIONS_DEG.tolist()
    return runs_text([(ends[first], ends[last]) for first, last in ranges_deg(works)])


def ruler_rows(report: SeasonReport, ruler: Ruler):
    """The rows of the ruler: what any stand offers, then each, those most often go first.

    Args: the report; the winds that work, its stands in the report's order. Returns:
    names; verdicts, shape (row, 36); the share of the season's sits that each is go.
    Seats to watch from do not count for any stand.
    """
    go = [stand.by_sit[ruler.sit].go or 0.0 for stand in report.stands]
    order = sorted(range(len(go)), key=lambda i: -go[i])
    counts = [i for i in order if report.stands[i].id not in report.ground.watch_seats]
    best = ruler.verdict[counts].min(axis=0, initial=WRONG)
    names = [ANY, *(report.stands[i].name for i in order)]
    some = report.ground.by_sit[ruler.sit].some_stand_go
    return names, np.vstack([best, ruler.verdict[order]]), [some, *(go[i] for i in order)]
