"""One stand in many sits: the whole chain of the home page, as arrays."""

from dataclasses import dataclass
from types import SimpleNamespace

import numpy as np
import numpy.typing as npt

from core.ground.layout import Stand
from core.season.half_days import Half
from core.season.hours import SeasonHours, season_hours
from core.season.walks import Chosen, chosen, judge_walk, unjudged
from core.sit.before import BEDDING_END, FOOD_END
from core.sit.exposure import CAUSE_WORDS, IS_CALM, IS_LIGHT, IS_MISSING, IS_VARIABLE
from core.sit.limits import over_limits
from core.sit.minutes import EVENING
from core.sit.order import NOT_NOW, WATCH, wanted_word
from core.sit.rank import LEAVE_BEFORE_S, Judged, hour_value, judge_sit
from core.sit.scene import IN, OUT, Way
from core.sit.verdicts import CANT, CANT_CALL, GO, JUST_OFF, STAY, WRONG
from core.units import SECONDS_PER_MINUTE

Ints8 = npt.NDArray[np.int8]
IS_STILL = np.isin(np.arange(len(CAUSE_WORDS)), (IS_CALM, IS_VARIABLE, IS_MISSING, IS_LIGHT))

NOTHING, BY_SIT, BY_WAY, BY_CALM, BY_OTHER = range(5)  # what keeps a stand out
OUT_WORDS = ("", "sit", "way_in", "calm", "other")
OFF_SIT, OFF_TRAIL = 1, 2  # what keeps a go from clean


@dataclass(frozen=True, eq=False)
class StandSeason:
    """One stand in all mornings, or all evenings; shapes (sit,).

    `out` says what keeps it out (`OUT_WORDS`), `off` what keeps a go from clean;
    `but_for_way` is a sit that only the way in spoils; `watch` one that the owner only
    watches from here, and counts on no shot. `hours` counts the deciding
    hours by verdict, in the order of `VERDICT_WORDS`.
    """

    group: Ints8
    verdict: Ints8
    out: Ints8
    off: Ints8
    but_for_way: npt.NDArray[np.bool_]
    watch: npt.NDArray[np.bool_]
    hours: npt.NDArray[np.int64]
    hour_verdict: Ints8  # (sit, row)
    seated_s: npt.NDArray[np.float64]  # when the hunter is seated [epoch s]


def stand_season(half: Half, stand: Stand, walks: bool = True) -> StandSeason:
    """Judges one stand in every sit, in the wind of each.

    Args: the sits made ready; the stand; False to leave the walks aside, as if every
    way were clean (no sit is then less go than with them).
    """
    hours = season_hours(half, stand)
    by_sit = half.rows.by_sit
    verdict = by_sit(hours.verdict)
    value = by_sit(hour_value(hours.verdict, hours.still, stand.edge_ok))
    judged = judge_sit(half.clock.sit, half.clock.rows, verdict, value)
    by_other = _wanted(half, stand, NOT_NOW) | stand.closed | ~half.clock.open
    by_air = judged.wrong_prime | (judged.low_share & half.clock.open)
    # the walks of sits that the air spoils decide nothing
    way_in = _way_in(half, stand, judged, np.flatnonzero(~by_air)) if walks else None
    no_way = walks and way_in is None
    way_wrong = np.zeros(len(half), bool)
    if way_in is not None:
        way_wrong[way_in.sits] = way_in.verdict == WRONG
    windy = _windy(half, stand, judged, way_in, walks, ~by_air)
    stay = by_other | by_air | way_wrong | windy
    cant = ~stay & ((judged.air_group == CANT) | no_way)
    group = np.select([stay, cant], [STAY, CANT], GO).astype(np.int8)
    calm = _calm(half, judged, hours)
    out = np.select(
        [group == GO, by_other, by_air, way_wrong, windy, calm],
        [NOTHING, BY_OTHER, BY_SIT, BY_WAY, BY_OTHER, BY_CALM],
        BY_OTHER,
    )
    alone = way_wrong & ~by_other & ~by_air & ~windy & (judged.air_group == GO)
    final = np.select(
        [cant, stay & (by_air | way_wrong), stay & no_way & (judged.air_verdict != WRONG)],
        [CANT_CALL, WRONG, CANT_CALL],
        judged.air_verdict,
    )
    deciding = half.clock.rows.deciding
    return StandSeason(
        group=group,
        verdict=final.astype(np.int8),
        out=out.astype(np.int8),
        off=_off(half, judged, hours, group, final),
        but_for_way=alone,
        watch=_wanted(half, stand, WATCH),
        hours=np.bincount(verdict[deciding], minlength=4),
        hour_verdict=verdict,
        seated_s=np.asarray(seats_s(half, stand, judged), float),
    )


# --- the walks ---


def seats_s(half: Half, stand: Stand, judged: Judged):
    """When the hunter is seated in each sit. [epoch s], shape (sit,)

    Args: the sits; the stand; its sits judged. As `core.answer.one_sit.seated_s`.
    """
    clock = half.clock
    if clock.sit != EVENING:
        return clock.seated_s
    sits = np.arange(len(half))
    opens = clock.rows.end_s[sits, np.maximum(judged.last_wrong, 0)]
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
    first = clock.rows.start_s[np.arange(len(half)), np.maximum(judged.first_wrong, 0)]
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


def _way_in(half: Half, stand: Stand, judged: Judged, sits) -> Chosen | None:
    """The way in chosen in each of some sits; None without a way."""
    seated = seats_s(half, stand, judged)[sits]
    walks = []
    for way in half.scene.ways(stand, IN):
        start = seated - SECONDS_PER_MINUTE * (way.minutes + stand.set_up_min)
        walks.append(judge_walk(half, way, start, sits, _crossed(half, way, stand, sits)))
    return chosen(walks, sits) if walks else None


# --- the other rules ---


def _wanted(half: Half, stand: Stand, word: str):
    """Sits of which the owner says a word about the stand. Shape (sit,)"""

    def says(part) -> bool:
        clock = SimpleNamespace(part=part, sit=half.clock.sit)
        return wanted_word(stand, clock) == word  # type: ignore[arg-type]

    return half.dates.of_part(says)[half.clock.at]


def _too_windy(half: Half, stand: Stand):
    """Hours of too much wind, and the sits whose block holds one; (sit x block,), (sit,)."""
    bad = np.any(list(over_limits(stand, half.rows.hours.weather).values()), axis=0)
    return bad, bad.reshape(len(half), half.rows.block).any(axis=1)


def _windy(half: Half, stand: Stand, judged: Judged, way_in: Chosen | None, walks: bool, asked):
    """Sits asked for that gusts or the mean wind rule out in the stretch or on a walk. (sit,)"""
    limits = (stand.max_gust_mph, stand.height_ft > 0)
    bad, touched = half.kept(("windy", *limits), lambda: _too_windy(half, stand))
    found = np.zeros(len(half), bool)
    sits = np.flatnonzero(touched & asked)
    if not len(sits):
        return found
    stretch = (judged.empty[sits, None] | judged.stretch[sits]) & half.clock.rows.inside[sits]
    found[sits] = (bad[half.rows.window[sits]] & stretch).any(axis=1)
    if walks:
        known_in = way_in and way_in.take(np.searchsorted(way_in.sits, sits))
        for walk in (_way_out(half, stand, judged, sits), known_in):
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
    still = half.rows.by_sit(IS_STILL[hours.cause])
    looked_at = np.where(judged.has_prime[:, None], half.clock.rows.prime, half.clock.rows.inside)
    return (still & looked_at).any(axis=1)


def _off(half: Half, judged: Judged, hours: SeasonHours, group, verdict):
    """What keeps a go from clean: the places alone, or only the trail. Shape (sit,)"""
    decides = half.clock.rows.deciding
    looked_at = np.where(judged.has_prime[:, None], half.clock.rows.prime, judged.stretch & decides)
    places = (looked_at & (half.rows.by_sit(hours.areas) == JUST_OFF)).any(axis=1)
    places |= ~judged.has_prime & (judged.first_wrong >= 0)
    off = (group == GO) & (verdict == JUST_OFF)
    return np.select([off & places, off], [OFF_SIT, OFF_TRAIL], 0).astype(np.int8)
