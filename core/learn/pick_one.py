"""A learner's pick beside the best: hour by hour, in words, and why."""

import math
from dataclasses import dataclass

import numpy as np

from core.angles import separation_deg
from core.answer.change import ranges_deg, works_by_degree
from core.answer.one_sit import StandSit, judge_ways_in
from core.answer.shots import trails_in_wrong_air
from core.errors import BadRequest
from core.judge import stand as a
from core.judge.order import WANTED_SHARE
from core.learn import tally
from core.learn.second_hunter import beside_lines, near_lines, unsafe_beside
from core.learn.situations import Situation
from core.learn.turn_the_wind import POINT_WORDS, a_wind, direction_words, turn_sentence
from core.say.reason_texts import first_reason, walk_text
from core.say.reasons import walk_of
from core.say.what_would_change import joined_runs
from core.say.words import VERDICTS_SAID, at_time, in_a_row, wind_words
from core.sit.prepare import Sit
from core.sit.scene import IN
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, WRONG
from core.sit.ways import WayAir

NOT_SAFE = {a.GUST, a.STRONG, a.STORM, a.OUT_OF_SEASON, a.NO_MINUTES, a.IS_CLOSED, a.IS_TAKEN}


@dataclass(frozen=True, slots=True)
class Pick:
    """What the learner says: stand and lane ids; `stand` None means stay out."""

    stand: str | None
    lane: str | None = None


@dataclass(frozen=True, slots=True)
class HourBeside:
    """One hour: its time and wind, and both verdicts in words ("" where there is none)."""

    time: str
    wind: str
    pick: int | None
    best: int | None


@dataclass(frozen=True)
class Judgement:
    """What the pick was worth. `missed`: reasons of the tally."""

    right: bool
    headline: str
    lines: tuple[str, ...]
    hours: tuple[HourBeside, ...]
    missed: tuple[str, ...]


def best_of(situation: Situation) -> StandSit | None:
    """The stand to say: first of the home page's order that is go and apart enough.

    Returns: None where staying out is right.
    """
    return next(
        (s for s in situation.answer.stands if s.group == GO and not unsafe_beside(situation, s)),
        None,
    )


def judge_pick(situation: Situation, pick: Pick) -> Judgement:
    """The pick beside the best.

    Args: the situation; the pick. Raises: BadRequest for a stand or lane unknown here.
    """
    best = best_of(situation)
    if pick.stand is None:
        return _stayed(situation, best)
    seat = next((s for s in situation.answer.stands if s.stand.id == pick.stand), None)
    if seat is None:
        raise BadRequest(f"no stand has the id '{pick.stand}'", "the pick", "Pick one of the list.")
    way = way_of(situation.ready, seat, pick.lane)
    missed = tuple(_missed(situation, seat, way, best))
    right = seat.group == GO and not unsafe_beside(situation, seat) and not _way_wrong(way)
    lines = [turn_sentence(situation.ready, seat)]
    lines += (
        _way_lines(situation, seat, way)
        + near_lines(situation, seat)
        + beside_lines(situation, seat)
    )
    if best is not None and best.stand.id != seat.stand.id:
        lines.append(f"Best: {turn_sentence(situation.ready, best)}")
    if seat.group != GO:
        lines.append(right_wind_sentence(situation.ready, seat))
    return Judgement(
        right,
        _headline(seat, best, right),
        tuple(lines),
        hours_beside(situation, seat, best),
        missed,
    )


def way_of(sit: Sit, seat: StandSit, lane: str | None) -> WayAir | None:
    """The walk in by a lane; the chosen one where none is named.

    Args: the sit; the stand in it; the lane's id. Raises: BadRequest for a lane that
    does not serve the stand.
    """
    if lane is None:
        return seat.way_in
    for way in judge_ways_in(sit, seat.stand, seat.seated_s or sit.clock.seated_s):
        if way.way.lane.id == lane:
            return way
    raise BadRequest(
        f"'{lane}' does not lead to {seat.stand.name}", "the pick", "Pick its own lane."
    )


def _way_wrong(way: WayAir | None) -> bool:
    return way is not None and int(way.verdict[0]) == WRONG


def _stayed(situation: Situation, best: StandSit | None) -> Judgement:
    hours = hours_beside(situation, None, best)
    if best is None:
        first = situation.answer.stands[0]
        why = f"Least bad: {turn_sentence(situation.ready, first)}"
        return Judgement(True, "Right: stay out. No stand is go.", (why,), hours, ())
    line = turn_sentence(situation.ready, best)
    return Judgement(False, f"{best.stand.name} was go.", (line,), hours, (tally.STAYED,))


def _missed(situation: Situation, seat: StandSit, way: WayAir | None, best: StandSit | None):
    """Why a pick is less than the best, in the words of the tally."""
    causes = set(seat.causes)
    if causes & NOT_SAFE or unsafe_beside(situation, seat):
        yield tally.SAFETY
    if causes & {a.WAY_IN, a.NO_WAY} or _worse_way(seat, way):
        yield tally.WAY_IN
    if causes & {a.PRIME_HOUR, a.AIR_SHARE, a.NOT_NOW}:
        yield tally.SIT
    if seat.group == CANT and a.NO_WAY not in causes:
        yield tally.CALM
    is_off = seat.group == GO and seat.verdict == JUST_OFF
    better = best is not None and best.verdict == CLEAN
    if is_off and better and trails_in_wrong_air(situation.ready, seat):
        yield tally.TRAIL


def _worse_way(seat: StandSit, way: WayAir | None) -> bool:
    if way is None or seat.way_in is None:
        return False
    return int(way.verdict[0]) > int(seat.way_in.verdict[0]) or _way_wrong(way)


def _headline(seat: StandSit, best: StandSit | None, right: bool) -> str:
    name = seat.stand.name
    if best is None:
        return f"No: stay out. {name} is not go, and no other stand is."
    if seat.stand.id == best.stand.id and right:
        return f"Right. {name} comes first."
    if right:
        return f"{name} is go too. {best.stand.name} comes first: {_why_first(seat, best)}."
    if seat.stand.id == best.stand.id:
        return f"The right stand by the wrong way in. {name} comes first."
    return f"No. {best.stand.name} comes first."


def _why_first(seat: StandSit, best: StandSit) -> str:
    """The first thing in which the best beats another stand that is go."""
    if best.verdict < seat.verdict:
        return f"it is {VERDICTS_SAID[best.verdict]}, this one {VERDICTS_SAID[seat.verdict]}"
    if best.air_share > seat.air_share + 0.05:
        return "more of its hours are good"
    ways = [int(s.way_in.verdict[0]) if s.way_in else CANT_CALL for s in (best, seat)]
    if ways[0] < ways[1]:
        return "its way in is better"
    if WANTED_SHARE.get(best.wanted or "", 0.5) > WANTED_SHARE.get(seat.wanted or "", 0.5):
        return "the owner wants it more at this time"
    if len(best.corridors) > len(seat.corridors):
        return "it has more trails in range"
    return "the two are close"


def _way_lines(situation: Situation, seat: StandSit, way: WayAir | None) -> list[str]:
    if way is None or seat.way_in is None or way.way.lane.id == seat.way_in.way.lane.id:
        return []
    sit = situation.ready
    return [
        walk_text(sit, walk_of(sit, way, IN), "Your way in"),
        walk_text(sit, walk_of(sit, seat.way_in, IN), "The better way in"),
    ]


def hours_beside(
    situation: Situation, seat: StandSit | None, best: StandSit | None
) -> tuple[HourBeside, ...]:
    """Both verdicts of every hour of the window.

    Args: the situation; the pick, None for staying out; the best, None for none.
    """
    sit = situation.ready
    told = []
    for i, row in enumerate(range(sit.window.start, sit.window.stop)):
        both = [None if s is None else s.verdict_in(row) for s in (seat, best)]
        start, wind = at_time(sit, sit.shown_start_s(i)), wind_words(sit.rows.weather, row)
        told.append(HourBeside(start, wind, *both))
    return tuple(told)


def right_wind_sentence(sit: Sit, seat: StandSit) -> str:
    """The wind that would have made a stand right, at these speeds and hours."""
    name = seat.stand.name
    works = works_by_degree(sit, seat)
    runs = ranges_deg(works)
    if not runs:
        return f"At this speed no wind makes {name} right: {_lower(first_reason(sit, seat))}"
    if runs == [(0, 360)]:
        return f"{name} is right on any wind at this speed."
    joined, parted = joined_runs(runs)
    winds = " or ".join(_run_words(x, y) for x, y in joined)
    but = f", but not all of {in_a_row(POINT_WORDS[p] for p in parted)}," if parted else ""
    line = f"{name} is right on winds from {winds}{but} at this speed."
    today = sit.mean_wind_deg
    if math.isnan(today) or works[int(today + 0.5) % 360]:
        return line
    good = np.flatnonzero(works)
    nearest = int(good[np.argmin(separation_deg(good, today))])
    turn = round(float(separation_deg(nearest, today)))
    return f"{line} The nearest is {a_wind(nearest)}, {turn}° from this one."


def _run_words(from_deg: float, to_deg: float) -> str:
    first, last = direction_words(from_deg), direction_words(to_deg)
    return first if first == last and (to_deg - from_deg) % 360 < 45 else f"{first} round to {last}"


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]
