"""A drawn situation with another hunter out: where he sits, and which seats are too near."""

import numpy as np

from core.answer.one_sit import StandSit
from core.learn.situations import Situation
from core.learn.turn_the_wind import direction_words, yards
from core.say.two_hunters import CLOSE_YD, shots_at, together
from core.units import M_PER_YD


def too_near(found: Situation, stand_id: str) -> bool:
    """Whether a stand lies within CLOSE_YD of the other hunter's.

    Args: the situation; a stand's id. Source: common practice, no source.
    """
    scene = found.ready.scene
    at_m = scene.stands_m[scene.index(scene.ground.stand(stand_id))]
    for other in found.taken:
        there_m = scene.stands_m[scene.index(scene.ground.stand(other))]
        if np.hypot(*(at_m - there_m)) < CLOSE_YD * M_PER_YD:
            return True
    return False


def unsafe_beside(found: Situation, own: StandSit) -> bool:
    """Whether a stand is too near the other hunter, or in line with a shot of either.

    Args: the situation; the stand. Source: common practice, no source.
    """
    sit = found.ready
    in_line = any(
        shots_at(sit, own, other) or shots_at(sit, other, own) for other in _others(found, own)
    )
    return in_line or too_near(found, own.stand.id)


def _others(found: Situation, own: StandSit) -> list[StandSit]:
    """The other hunters' stands, in the order of the answer."""
    mine = own.stand.id
    return [s for s in found.answer.stands if s.stand.id in found.taken and s.stand.id != mine]


def beside_lines(found: Situation, own: StandSit) -> list[str]:
    """What the two hunters must know of each other; none alone, which is no clearance.

    Args: the situation; the stand of the one who picks.
    """
    said = []
    for other in _others(found, own):
        said += together(found.ready, own, other, found.taken[other.stand.id])
    return said


def other_hunter_line(found: Situation) -> str:
    """Where the other hunter sits, and which way no shot goes; empty without one."""
    scene, said = found.ready.scene, []
    for stand_id, who in found.taken.items():
        stand = scene.ground.stand(stand_id)
        said.append(
            f"{who} sits at {stand.name}. No shot toward {stand.name}, whatever stands there."
        )
    return " ".join(said)


def apart_line(found: Situation, stand_id: str) -> str:
    """How the other hunter lies from a stand; empty without one.

    Args: the situation; the stand's id.
    """
    scene = found.ready.scene
    at_m = scene.stands_m[scene.index(scene.ground.stand(stand_id))]
    said = []
    for other in found.taken:
        if other == stand_id:
            continue
        delta = scene.stands_m[scene.index(scene.ground.stand(other))] - at_m
        toward = direction_words(float(np.degrees(np.arctan2(delta[0], delta[1])) % 360))
        said.append(
            f"{scene.ground.name_of(other)} is {yards(float(np.hypot(*delta)))} {toward} of you: "
            "no shot that way."
        )
    return " ".join(said)


def near_lines(found: Situation, own: StandSit) -> list[str]:
    """Whether a pick is too near the other hunter, in words; none where it is not."""
    if own.stand.id in found.taken or not too_near(found, own.stand.id):
        return []
    names = " and ".join(found.ready.scene.ground.name_of(s) for s in found.taken)
    return [
        f"{own.stand.name} is within {CLOSE_YD:.0f} yards of the hunter at {names}: too near "
        "(common practice)."
    ]
