"""One stand in many sits: the whole chain of the home page, as arrays."""

from dataclasses import dataclass
from types import SimpleNamespace

import numpy as np
import numpy.typing as npt

from core.ground.layout import Stand
from core.sits.before import BEDDING_END, FOOD_END
from core.sits.clock import EVENING
from core.sits.exposure import CAUSE_WORDS, IS_CALM, IS_LIGHT, IS_MISSING, IS_VARIABLE
from core.sits.order import NOT_NOW, wanted_word
from core.sits.rank import LEAVE_BEFORE_S, STRONG_WIND_MPS, Judged, hour_value, judge_sit
from core.sits.scene import IN, OUT, Way
from core.sits.season_half import Half
from core.sits.season_hours import SeasonHours, season_hours
from core.sits.season_ways import Chosen, chosen, judge_walk, unjudged
from core.sits.verdicts import CANT, CANT_CALL, GO, JUST_OFF, STAY, WRONG
from core.units import MPS_PER_MPH, SECONDS_PER_HOUR, SECONDS_PER_MINUTE

Ints8 = npt.NDArray[np.int8]
IS_STILL = np.isin(np.arange(len(CAUSE_WORDS)), (IS_CALM, IS_VARIABLE, IS_MISSING, IS_LIGHT))

NOTHING, BY_SIT, BY_WAY, BY_CALM, BY_OTHER = range(5)  # what keeps a stand out
OUT_WORDS = ("", "sit", "way_in", "calm", "other")
OFF_SIT, OFF_TRAIL = 1, 2  # what keeps a go from clean


@dataclass(frozen=True, eq=False)
class StandSeason:
    """One stand in all mornings, or all evenings; shapes (sit,).

    `out` says what keeps it out (`OUT_WORDS`), `off` what keeps a go from clean;
    `but_for_way` is a sit that only the way in spoils. `hours` counts the deciding
    hours by verdict, in the order of `VERDICT_WORDS`.
    """

    group: Ints8
    verdict: Ints8
    out: Ints8
    off: Ints8
    but_for_way: npt.NDArray[np.bool_]
    hours: npt.NDArray[np.int64]
    hour_verdict: Ints8  # (sit, row)
    seated_s: npt.NDArray[np.float64]  # when the hunter is seated [epoch s]


def stand_season(half: Half, stand: Stand, walks: bool = True) -> StandSeason:
    """Judges one stand in every sit, in the wind of each.

    Args: the sits made ready; the stand; False to leave the walks aside, as if every
    way were clean (no sit is then less go than with them).
    """
    hours = season_hours(half, stand)
    shape = half.rows.window.shape
    verdict = hours.verdict.reshape(shape)
    value = hour_value(hours.verdict, hours.still, stand.edge_ok).reshape(shape)
    judged = judge_sit(half.clock, verdict, value)
    way_in = _way_in(half, stand, judged) if walks else None
    no_way = walks and way_in is None
    way_wrong = np.zeros(len(half), bool) if way_in is None else way_in.verdict == WRONG
    fixed = _fixed(half, stand)
    windy = _windy(half, stand, judged, way_in, walks)
    low = judged.low_share & half.clock.open
    stay = fixed | windy | judged.wrong_prime | way_wrong | low | ~half.clock.open
    cant = ~stay & ((judged.air_group == CANT) | no_way)
    group = np.select([stay, cant], [STAY, CANT], GO).astype(np.int8)
    by_other = fixed | ~half.clock.open
    by_sit = judged.wrong_prime | low
    calm = _calm(half, judged, hours)
    out = np.select(
        [group == GO, by_other, by_sit, way_wrong, windy, calm],
        [NOTHING, BY_OTHER, BY_SIT, BY_WAY, BY_OTHER, BY_CALM],
        BY_OTHER,
    )
    alone = way_wrong & ~by_other & ~by_sit & ~windy & (judged.air_group == GO)
    final = np.select(
        [cant, stay & (by_sit | way_wrong), stay & no_way & (judged.air_verdict != WRONG)],
        [CANT_CALL, WRONG, CANT_CALL],
        judged.air_verdict,
    )
    deciding = half.clock.deciding
    return StandSeason(
        group=group,
        verdict=final.astype(np.int8),
        out=out.astype(np.int8),
        off=_off(half, judged, hours, group, final),
        but_for_way=alone,
        hours=np.bincount(verdict[deciding], minlength=4),
        hour_verdict=verdict,
        seated_s=np.asarray(seats_s(half, stand, judged), float),
    )


# --- the walks ---


def seats_s(half: Half, stand: Stand, judged: Judged):
    """When the hunter is seated in each sit. [epoch s], shape (sit,)

    Args: the sits; the stand; its sits judged. As `core.sits.answer.seated_s`.
    """
    clock = half.clock
    if clock.sit != EVENING:
        return clock.seated_s
    sits = np.arange(len(half))
    opens = clock.row_start_s[sits, np.maximum(judged.last_wrong, 0)] + SECONDS_PER_HOUR
    waits = (judged.last_wrong >= 0) & ~judged.empty
    set_up_s = round(stand.set_up_min * SECONDS_PER_MINUTE)
    return np.where(waits, opens + set_up_s, clock.seated_s)


def ends_s(half: Half, judged: Judged):
    """When the way out starts in each sit. [epoch s], shape (sit,)

    Args: the sits; a stand's sits judged.
    """
    clock = half.clock
    if clock.sit == EVENING:
        return clock.end_s
    first = clock.row_start_s[np.arange(len(half)), np.maximum(judged.first_wrong, 0)]
    leaves = (judged.first_wrong >= 0) & ~judged.empty
    return np.where(leaves, first - LEAVE_BEFORE_S, clock.end_s)


def _crossed(half: Half, way: Way, stand: Stand, sits):
    """Whether a way crosses a part deer walk before the shot, in some sits."""
    own = FOOD_END if half.morning else BEDDING_END

    def crosses(ends):
        found = half.scene.crosses_before_shot(way, stand, stand.range_yd, ends)
        return bool(found)

    usual = crosses((own,))
    all_day = half.clock.all_day_part[sits]
    both = crosses((FOOD_END, BEDDING_END)) if all_day.any() else usual
    return np.where(all_day, both, usual)


def _way_in(half: Half, stand: Stand, judged: Judged) -> Chosen | None:
    """The way in chosen in each sit; None without a way."""
    seated = seats_s(half, stand, judged)
    sits = np.arange(len(half))
    walks = []
    for way in half.scene.ways(stand, IN):
        start = seated - SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)
        walks.append(judge_walk(half, way, start, sits, _crossed(half, way, stand, sits)))
    return chosen(walks, sits) if walks else None


# --- the other rules ---


def _fixed(half: Half, stand: Stand):
    """Sits that the owner's own word rules out: closed, or not now. Shape (sit,)"""
    words = {}
    for part in set(half.dates.parts):
        clock = SimpleNamespace(part=part, sit=half.clock.sit)
        words[part] = wanted_word(stand, clock) == NOT_NOW  # type: ignore[arg-type]
    not_now = np.array([words[p] for p in half.dates.parts], bool)[half.clock.at]
    return not_now | stand.closed


def _windy(half: Half, stand: Stand, judged: Judged, way_in: Chosen | None, walks: bool):
    """Sits that gusts or the mean wind rule out in the stretch or on a walk. (sit,)"""
    hours = half.rows.hours
    bad = np.zeros(len(hours.start_s), bool)
    if stand.max_gust_mph is not None:
        limit = stand.max_gust_mph * MPS_PER_MPH + 1e-9
        bad |= np.nan_to_num(hours.weather.gust_mps) > limit
    if stand.height_ft > 0:
        bad |= hours.speed_mps >= STRONG_WIND_MPS
    found = np.zeros(len(half), bool)
    sits = np.flatnonzero(bad.reshape(len(half), -1).any(axis=1))
    if not len(sits):
        return found
    inside = half.clock.minutes > 0
    stretch = np.where(judged.empty[:, None], inside, judged.stretch & inside)
    found[sits] = (bad[half.rows.window] & stretch)[sits].any(axis=1)
    if walks:
        for walk in (_way_out(half, stand, judged, sits), way_in and way_in.take(sits)):
            if walk is not None:
                found[sits] |= _bad_on_walk(half, bad, walk)
    return found


def _way_out(half: Half, stand: Stand, judged: Judged, sits) -> Chosen | None:
    start = ends_s(half, judged)[sits].astype(float)
    nothing = np.zeros(len(sits), bool)
    ways = half.scene.ways(stand, OUT)
    if len(ways) == 1:  # no choice, and its verdict decides nothing
        return chosen([unjudged(ways[0], start)], sits)
    walks = [judge_walk(half, w, start, sits, nothing) for w in ways]
    return chosen(walks, sits) if walks else None


def _bad_on_walk(half: Half, bad, walk: Chosen):
    first_s = walk.start_s + SECONDS_PER_MINUTE / 2
    last_s = first_s + SECONDS_PER_MINUTE * (walk.minutes - 1)
    first = half.rows.index_of(first_s, walk.sits)
    last = half.rows.index_of(last_s, walk.sits)
    total = np.concatenate([[0], np.cumsum(bad)])
    return total[last + 1] > total[first]


def _calm(half: Half, judged: Judged, hours: SeasonHours):
    """Whether still or missing wind is among what can't be called. Shape (sit,)"""
    shape = half.rows.window.shape
    still = IS_STILL[hours.cause].reshape(shape)
    prime = (half.clock.prime_first_min + half.clock.prime_last_min > 0) & half.clock.deciding
    looked_at = np.where(judged.has_prime[:, None], prime, half.clock.minutes > 0)
    return (still & looked_at).any(axis=1)


def _off(half: Half, judged: Judged, hours: SeasonHours, group, verdict):
    """What keeps a go from clean: the places alone, or only the trail. Shape (sit,)"""
    shape = half.rows.window.shape
    decides = half.clock.deciding
    prime = (half.clock.prime_first_min + half.clock.prime_last_min > 0) & decides
    looked_at = np.where(judged.has_prime[:, None], prime, judged.stretch & decides)
    places = (looked_at & (hours.areas.reshape(shape) == JUST_OFF)).any(axis=1)
    places |= ~judged.has_prime & (judged.first_wrong >= 0)
    off = (group == GO) & (verdict == JUST_OFF)
    return np.select([off & places, off], [OFF_SIT, OFF_TRAIL], 0).astype(np.int8)
