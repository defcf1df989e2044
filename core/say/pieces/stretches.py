"""The stretches of a sit at one stand: times in which the air does one thing."""

import dataclasses
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.angles import point_name, separation_deg
from core.answer.one_sit import StandSit, place_ids
from core.judge.causes import IS_CANCELLED, IS_MISSING, IS_TURNING, SURE
from core.judge.still import NOT_KNOWN
from core.say.why.air import climbs_to
from core.say.words import VERDICTS_SAID, like_text
from core.sit.minutes import SHORT_MIN, TURNING
from core.sit.prepare import Sit
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF
from core.sit.ways import MOST_SHOWN_YD
from core.units import SECONDS_PER_MINUTE

MOST_NAMED = 2  # places of a stretch
LIES_THERE_DEG = 20.0  # a place this near to the way of the air lies there
TURNS, NOTHING = "turning", "nothing that counts"
ANY_WAY, CANCELLED, NO_WIND = "any way", "slope air and wind cancel", "no wind given"
NOT_ASKED: tuple[str, tuple[str, ...], float] = ("", (), math.inf)

Head = tuple[str, str]  # a way that air goes on a slope: "up to", "NE"


@dataclass(frozen=True, slots=True)
class Stretch:
    """A time that is alike: its verdict, where the air goes in it, and what lies there.

    `heads`: the ways that the air goes in it, in their order, where it has one at a time;
    `named`: ids of the places it reaches that are told; `like_yd`: how near the most reached is;
    `turning`: whether the slope wind turns in it, and swings the air by enough to tell;
    `likely`: what the slope's own air would make of it where it can't be called, else
    `NOT_KNOWN`.
    """

    start_s: int
    end_s: int
    verdict: int
    turning: bool
    way: str
    lies: str
    likely: int = NOT_KNOWN
    heads: tuple[Head, ...] = ()
    named: tuple[str, ...] = ()
    like_yd: float = math.inf

    @property
    def is_short(self) -> bool:
        """Whether it is too short to decide anything."""
        return self.end_s - self.start_s < SHORT_MIN * SECONDS_PER_MINUTE


def stretches(sit: Sit, seat: StandSit, *, named: bool = True) -> tuple[Stretch, ...]:
    """The stretches of a sit at a stand, in order, from the window's start to its end.

    One that decides nothing is told as part of a neighbour that is no cleaner.
    Args: the sit; the stand in it; whether what lies there is wanted too. Missing: none where
    closed hours leave no minute.
    """
    hours, rows = seat.hours, seat.rows
    told = [
        (
            swings(sit, seat, i),
            int(hours.verdict[i]),
            int(hours.still[i]),
            _heads(sit, seat, i),
            _way(sit, seat, i),
        )
        for i in range(len(hours.verdict))
    ]
    found = []
    for (turning, verdict, likely, heads, way), group in itertools.groupby(
        range(len(told)), key=told.__getitem__
    ):
        cases = list(group)
        start_s, end_s = int(rows.start_s[cases[0]]), int(rows.end_s[cases[-1]])
        lies = _lies(sit, seat, cases, turning=turning) if named else NOT_ASKED
        found.append(
            Stretch(
                start_s,
                end_s,
                verdict,
                turning,
                way,
                lies[0],
                likely,
                heads,
                named=lies[1],
                like_yd=lies[2],
            )
        )
    return _joined(_without_short(found))


def _without_short(found: Sequence[Stretch]) -> tuple[Stretch, ...]:
    """Stretches, each short one joined to the one before or after it that is no cleaner."""
    left: list[Stretch] = []
    for one in found:
        before = left[-1] if left else None
        if before is not None and one.is_short and before.verdict >= one.verdict:
            left[-1] = dataclasses.replace(before, end_s=one.end_s)
        elif before is not None and before.is_short and one.verdict >= before.verdict:
            left[-1] = dataclasses.replace(one, start_s=before.start_s)
        else:
            left.append(one)
    return tuple(left)


def _joined(found: Sequence[Stretch]) -> tuple[Stretch, ...]:
    """Stretches, those one after another that differ by no more than the air's way as one."""
    left: list[Stretch] = []
    for one in found:
        before = left[-1] if left else None
        if before is None or not _alike(before, one):
            left.append(one)
            continue
        heads = (*before.heads, *one.heads)
        nearest = min((before, one), key=lambda each: each.like_yd)
        left[-1] = dataclasses.replace(
            nearest,
            start_s=before.start_s,
            end_s=one.end_s,
            heads=heads,
            way=_heads_text(heads),
        )
    return tuple(left)


def _alike(before: Stretch, one: Stretch) -> bool:
    """Whether two differ by no more than the one way that their air goes."""
    if before.verdict != one.verdict or not (before.heads and one.heads):
        return False
    return before.named == one.named and bool(one.named or before.lies == one.lies)


def _heads_text(heads: Sequence[Head]) -> str:
    """Ways in words, the first and the last: up to the NE, then E."""
    (word, point), last = heads[0], heads[-1]
    told = f"{word} the {point}"
    if last == heads[0]:
        return told
    return f"{told}, then {last[1] if last[0] == word else f'{last[0]} the {last[1]}'}"


def turns_s(sit: Sit, seat: StandSit) -> tuple[int, ...]:
    """When the slope wind turns in the window of a sit, where that makes a difference. [epoch s]

    Args: the sit; the stand in it.
    """
    clock, hours = sit.clock, seat.hours
    if clock.start_s is None or clock.end_s is None:
        return ()
    beside_s = round(sit.scene.ground.air.turn_min * SECONDS_PER_MINUTE)
    cases = np.flatnonzero(hours.kind == TURNING)
    found: set[int] = set()
    for run in np.split(cases, np.flatnonzero(np.diff(cases) > 1) + 1):
        if any(swings(sit, seat, int(i)) or _is_still(seat, int(i)) for i in run):
            start_s, end_s = int(seat.rows.start_s[run[0]]), int(seat.rows.end_s[run[-1]])
            # the window may begin or end in the middle of it
            begun = {start_s + beside_s} if start_s > clock.start_s else set()
            ended = {end_s - beside_s} if end_s < clock.end_s else set()
            found |= begun | ended
    return tuple(sorted(at for at in found if clock.start_s <= at <= clock.end_s))


def _is_still(seat: StandSit, case: int) -> bool:
    """Whether the air of a row would go with the slope's own, were it called."""
    return int(seat.hours.cause[case]) not in (SURE, IS_TURNING, IS_MISSING)


def swings(sit: Sit, seat: StandSit, case: int) -> bool:
    """Whether the air of a row turns with the slope's, and swings by enough to tell.

    Args: the sit; the stand in it; the row. What can't be called for it is always told.
    """
    hours = seat.hours
    if hours.kind[case] != TURNING or hours.cause[case] != IS_TURNING:
        return False
    far = hours.swing_deg[case] >= sit.scene.ground.air.turn_told_deg
    return bool(far or hours.verdict[case] == CANT_CALL)


def _heads(sit: Sit, seat: StandSit, case: int) -> tuple[Head, ...]:
    """The one way that the air of a row goes; none where it turns or may go any way."""
    if swings(sit, seat, case) or int(seat.hours.cause[case]) not in (SURE, IS_TURNING):
        return ()
    return (_toward(seat, float(seat.hours.air.air_to_deg[case])),)


def _way(sit: Sit, seat: StandSit, case: int) -> str:
    """Where the air of a row goes: up to the NE, turning, any way."""
    hours, cause = seat.hours, int(seat.hours.cause[case])
    if swings(sit, seat, case):
        return TURNS
    if heads := _heads(sit, seat, case):
        return _heads_text(heads)
    if cause == IS_MISSING:
        return NO_WIND
    way = CANCELLED if cause == IS_CANCELLED else ANY_WAY
    if hours.still[case] != NOT_KNOWN:
        verdict = VERDICTS_SAID[int(hours.still[case])]
        likely = _heads_text([_toward(seat, float(hours.still_to_deg[case]))])
        return f"{way}, likely {likely} ({verdict})"
    return f"{way}, {TURNS}" if hours.kind[case] == TURNING else way


def _toward(seat: StandSit, air_to_deg: float) -> Head:
    word = {True: "up to", False: "down to", None: "to"}[climbs_to(seat.stand, air_to_deg)]
    return word, point_name(air_to_deg)


def _lies(
    sit: Sit, seat: StandSit, cases: list[int], *, turning: bool
) -> tuple[str, tuple[str, ...], float]:
    """What the air of a stretch reaches, the most reached first, else what lies there; the ids
    that are named, and how near the first of them is. [yd]"""
    if int(seat.hours.cause[cases[0]]) == IS_MISSING:
        return "", (), math.inf
    any_way = _is_still(seat, cases[0])
    bare = turning or any_way  # then a trail is swung over, or may be reached
    found = _reached(sit, seat, cases, bare=bare)
    named = tuple(sorted(found, key=lambda id_: found[id_])[:MOST_NAMED])
    told = "; ".join(found[id_][2] for id_ in named)
    if turning:
        told = f"swings over {told or NOTHING}"
    elif told and any_way:
        told = f"may reach {told}"
    elif not told:
        told = _beyond(sit, seat, cases[0])
    return told, named, found[named[0]][1] if named else math.inf


def _reached(
    sit: Sit, seat: StandSit, cases: list[int], *, bare: bool
) -> dict[str, tuple[int, float, str]]:
    """Places that are not clean in some rows: how bad, how much at most, and that in words."""
    hours, n_areas, ids = seat.hours, len(sit.scene.areas), place_ids(sit, seat)
    told = hours.counts[cases] & (hours.place_verdict[cases] != CLEAN)
    found: dict[str, tuple[int, float, str]] = {}
    for at, i in np.argwhere(told).tolist():
        verdict = int(hours.place_verdict[cases[at], i])
        like_yd = float(hours.equivalent_yd[cases[at], i])
        on = "just past " if verdict == JUST_OFF else "on "
        head = on if i >= n_areas and not bare else ""
        like = f", like {like_text(like_yd)}" if like_yd <= MOST_SHOWN_YD else ""
        words = f"{head}{sit.scene.ground.name_of(ids[i])}{like}"
        one = (-verdict, math.inf if math.isnan(like_yd) else like_yd, words)
        found[ids[i]] = min(found.get(ids[i], one), one)
    return found


def _beyond(sit: Sit, seat: StandSit, case: int) -> str:
    """The nearest bed or food on the way of air that reaches nothing that counts."""
    hours, places = seat.hours, sit.scene.places(seat.stand)
    if int(hours.cause[case]) not in (SURE, IS_TURNING):
        return NOTHING
    ahead = [
        (places[area.id].distance_m, i)
        for i, area in enumerate(sit.scene.areas)
        if float(separation_deg(places[area.id].bearing_deg, hours.air.air_to_deg[case]))
        <= LIES_THERE_DEG
    ]
    if not ahead:
        return NOTHING
    i = min(ahead)[1]
    name = sit.scene.ground.name_of(sit.scene.areas[i].id)
    if not hours.counts[case, i]:
        return f"{name}, not counted then"
    if hours.equivalent_yd[case, i] <= sit.scene.ground.air.clean_beyond_yd:
        return f"{name}, not held then"
    return f"{name}, hardly any"
