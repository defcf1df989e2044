"""A drawn situation with another hunter out: where he sits, and which seats are too near."""

import numpy as np

from core.answer.one_sit import StandSit
from core.learn.situations import OTHER, Situation
from core.learn.turn_the_wind import direction_words, yards
from core.say.two_hunters import shots_at, together
from core.units import M_PER_YD


def too_near(situation: Situation, stand_id: str) -> bool:
    """Whether a stand lies nearer to the other hunter's than the property allows.

    Args: the situation; a stand's id. Source: common practice, no source.
    """
    scene = situation.ready.scene
    at_m = scene.stands_m[scene.index(scene.ground.stand(stand_id))]
    for other in situation.taken:
        there_m = scene.stands_m[scene.index(scene.ground.stand(other))]
        if np.hypot(*(at_m - there_m)) < scene.ground.sit.apart_yd * M_PER_YD:
            return True
    return False


def unsafe_beside(situation: Situation, seat: StandSit) -> bool:
    """Whether a stand is too near the other hunter, or in line with a shot of either.

    Args: the situation; the stand. Source: common practice, no source.
    """
    sit = situation.ready
    in_line = any(
        shots_at(sit, seat, other) or shots_at(sit, other, seat)
        for other in _others(situation, seat)
    )
    return in_line or too_near(situation, seat.stand.id)


def _others(situation: Situation, seat: StandSit) -> list[StandSit]:
    """The other hunters' stands, in the order of the answer."""
    mine = seat.stand.id
    return [
        s for s in situation.answer.stands if s.stand.id in situation.taken and s.stand.id != mine
    ]


def beside_lines(situation: Situation, seat: StandSit) -> list[str]:
    """What the two hunters must know of each other; none alone, which is no clearance.

    Args: the situation; the stand of the one who picks.
    """
    lines = []
    for other in _others(situation, seat):
        lines += together(situation.ready, seat, other, situation.taken[other.stand.id])
    return lines


def other_hunter_line(situation: Situation) -> str:
    """Where the other hunter is supposed to sit, and which way no shot goes; empty without one."""
    scene, lines = situation.ready.scene, []
    for stand_id, who in situation.taken.items():
        stand = scene.ground.stand(stand_id)
        lines.append(
            f"Suppose {who.lower() if who == OTHER else who} sits at {stand.name}. "
            f"No shot toward {stand.name}, whatever stands there."
        )
    return " ".join(lines)


def apart_line(situation: Situation, stand_id: str) -> str:
    """How the other hunter lies from a stand; empty without one.

    Args: the situation; the stand's id.
    """
    scene = situation.ready.scene
    at_m = scene.stands_m[scene.index(scene.ground.stand(stand_id))]
    lines = []
    for other in situation.taken:
        if other == stand_id:
            continue
        delta = scene.stands_m[scene.index(scene.ground.stand(other))] - at_m
        toward = direction_words(float(np.degrees(np.arctan2(delta[0], delta[1])) % 360))
        lines.append(
            f"{scene.ground.name_of(other)} is {yards(float(np.hypot(*delta)))} {toward} of you: "
            "no shot that way."
        )
    return " ".join(lines)


def near_lines(situation: Situation, seat: StandSit) -> list[str]:
    """Whether a pick is too near the other hunter, in words; none where it is not."""
    if seat.stand.id in situation.taken or not too_near(situation, seat.stand.id):
        return []
    names = " and ".join(situation.ready.scene.ground.name_of(s) for s in situation.taken)
    apart_yd = situation.ready.scene.ground.sit.apart_yd
    return [
        f"{seat.stand.name} is within {apart_yd:.0f} yards of the hunter at {names}: too near "
        "(common practice)."
    ]
