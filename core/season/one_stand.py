"""One stand in the sits of a season: what is told of it, and what keeps it out."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.ground.layout import Stand
from core.judge.causes import CAUSE_WORDS, IS_CALM, IS_LIGHT, IS_MISSING, IS_VARIABLE
from core.judge.stand import (
    AIR_SHARE,
    DECIDING,
    NO_WALKS,
    PRIME_HOUR,
    RULED_OUT,
    WATCH,
    WAY_IN,
    WAY_OUT,
    WINDY,
    StandSits,
    stand_sits,
)
from core.sit.prepare import Sits
from core.sit.verdicts import CANT_CALL, GO, JUST_OFF, VERDICT_WORDS

Ints8 = npt.NDArray[np.int8]
IS_STILL = np.isin(np.arange(len(CAUSE_WORDS)), (IS_CALM, IS_VARIABLE, IS_MISSING, IS_LIGHT))

NOTHING, BY_SIT, BY_WAY, BY_CALM, BY_OTHER = range(5)  # what keeps a stand out
OUT_WORDS = ("", "sit", "way_in", "calm", "other")
OFF_SIT, OFF_TRAIL = 1, 2  # what keeps a go from clean


@dataclass(frozen=True, eq=False)
class StandSeason:
    """One stand in all sits of a kind; shapes (sit,).

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
    hours: npt.NDArray[np.float64]
    seated_s: npt.NDArray[np.int64]  # when the hunter is seated [epoch s]


def stand_season(sits: Sits, stand: Stand, walks: bool = True) -> StandSeason:
    """Judges one stand in every sit, in the wind of each.

    Args: the sits made ready; the stand; False to leave the walks aside, as if every
    way were clean (no sit is then less go than with them).
    """
    own = stand_sits(sits, stand, walks=DECIDING if walks else NO_WALKS)
    by_sit, rows = own.rows.judged.by_sit, own.rows.judged.rows
    verdict = by_sit(own.hours.verdict)
    ruled_out, windy = own.any_of(RULED_OUT), own.any_of(WINDY)
    by_air, by_way = own.any_of((PRIME_HOUR, AIR_SHARE)), own.any_of((WAY_IN, WAY_OUT))
    out = np.select(
        [own.group == GO, ruled_out, by_air, by_way, windy, _calm(own)],
        [NOTHING, BY_OTHER, BY_SIT, BY_WAY, BY_OTHER, BY_CALM],
        BY_OTHER,
    )
    return StandSeason(
        group=own.group,
        verdict=own.verdict,
        out=out.astype(np.int8),
        off=_off(own),
        but_for_way=by_way & ~ruled_out & ~by_air & ~windy & (own.judged.air_group == GO),
        watch=own.wanted == WATCH,
        hours=_hours_of(verdict[rows.deciding], rows.minutes[rows.deciding]),
        seated_s=own.seated_s,
    )


def _hours_of(verdict: Ints8, minutes) -> npt.NDArray[np.float64]:
    """Hours of each verdict. Args: verdicts of rows; their minutes."""
    return np.bincount(verdict, minutes / 60.0, len(VERDICT_WORDS)).astype(float)


def _calm(own: StandSits):
    """Whether still or missing wind is among what can't be called. Shape (sit,)"""
    rows, by_sit = own.rows.judged.rows, own.rows.judged.by_sit
    still = by_sit(IS_STILL[own.hours.cause] & (own.hours.verdict == CANT_CALL))
    looked_at = np.where(own.judged.has_prime[:, None], rows.prime, rows.inside)
    return (still & looked_at).any(axis=1)


def _off(own: StandSits) -> Ints8:
    """What keeps a go from clean: the places alone, or only the trail. Shape (sit,)"""
    judged, rows, by_sit = own.judged, own.rows.judged.rows, own.rows.judged.by_sit
    looked_at = np.where(judged.has_prime[:, None], rows.prime, judged.stretch & rows.deciding)
    places = (looked_at & (by_sit(own.hours.areas) == JUST_OFF)).any(axis=1)
    places |= ~judged.has_prime & (judged.first_wrong >= 0)
    off = (own.group == GO) & (own.verdict == JUST_OFF)
    return np.select([off & places, off], [OFF_SIT, OFF_TRAIL], 0).astype(np.int8)
