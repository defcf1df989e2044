"""The order of the stands of a sit, group by group."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from core.sit.minutes import EVENING
from core.sit.prepare import Sits
from core.sit.stand import LAST, StandSits
from core.sit.verdicts import CANT_CALL, GROUP_WORDS, STAY, WRONG

Floats = npt.NDArray[np.float64]

BAND = 0.05
# values of the ways, and of what is wanted: common practice, no source
WAY_IN_SHARE = np.array([1.0, 0.8, 0.8, 0.0])
WAY_IN_WRONG_SHARE = 0.2  # only to order the stands that are out
WAY_OUT_SHARE = np.array([1.0, 0.9, 0.8, 0.6])
WANTED_SHARE = {"best": 1.0, "good": 0.7, "watch": 0.4, "not-now": 0.4}
UNSET_WANTED, UNSET_WATCH = 0.7, 0.4


def orders(sits: Sits, stands: Sequence[StandSits]) -> tuple[Floats, list[list[int]]]:
    """Scores of the stands of each sit, (sit, stand), and their order, best first.

    Args: the sits; every stand judged in them, in the file's order.
    """
    if not stands:
        return np.zeros((len(sits), 0)), [[] for _ in range(len(sits))]
    scores = np.stack([_scores(sits, s) for s in stands], axis=1)
    group = np.stack([s.group for s in stands], axis=1)
    at_end = np.stack([s.any_of(LAST) for s in stands], axis=1)
    in_range = [len(sits.scene.corridors_in_range(s.stand, s.range_yd)) for s in stands]
    each = []
    for i in range(len(sits)):
        members: dict[tuple[int, bool], list] = {}
        for k, s in enumerate(stands):
            entry = (scores[i, k], in_range[k], s.rested.share[i], s.stand.name, s.stand.id, k)
            members.setdefault((int(group[i, k]), bool(at_end[i, k])), []).append(entry)
        keys = [(g, last) for g in range(len(GROUP_WORDS)) for last in (False, True)]
        each.append([k for key in keys for k in in_order(members.get(key, []))])
    return scores, each


def _scores(sits: Sits, own: StandSits) -> Floats:
    """Air x way x wanted x rest. It only orders; it is never shown as a number. (sit,)"""
    cant = np.full(len(sits), CANT_CALL)
    way_in = cant if own.way_in is None else own.way_in.verdict
    way_out = cant if own.way_out is None else own.way_out.verdict
    stay = own.group == STAY
    share_in = np.where(stay & (way_in == WRONG), WAY_IN_WRONG_SHARE, WAY_IN_SHARE[way_in])
    air = np.where(stay, own.judged.window_share, own.judged.air_share)
    return air * share_in * WAY_OUT_SHARE[way_out] * _wanted_shares(sits, own) * own.rested.share


def _wanted_shares(sits: Sits, own: StandSits) -> Floats:
    scene, stand = sits.scene, own.stand
    food = sits.clock.sit == EVENING and scene.food_in_range(stand, own.range_yd)
    shot = scene.corridors_in_range(stand, own.range_yd) or food
    unset = UNSET_WANTED if shot else UNSET_WATCH
    return np.array([WANTED_SHARE.get(word, unset) for word in own.wanted.tolist()])


def in_order(scored: list[tuple[float, int, float, str, str, int]]) -> list[int]:
    """Order of stands by score, in bands of 5 %.

    Args: (score, corridors in range, rest share, name, id, key) of each.

    Returns: the keys. Within 5 % of the best: more corridors, longer rested,
    name, id; then the rest likewise.
    """
    left = sorted(scored, key=lambda s: (-s[0], s[3], s[4]))
    order: list[int] = []
    while left:
        floor = left[0][0] * (1.0 - BAND) - 1e-12
        band = [s for s in left if s[0] >= floor]
        left = left[len(band) :]
        band.sort(key=lambda s: (-s[1], -s[2], s[3], s[4]))
        order += [s[5] for s in band]
    return order
