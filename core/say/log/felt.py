"""What was felt at stands, in words: offers, what is in use, and how a wind is felt here."""

import numpy as np

from core.air.felt import felt_from_deg
from core.angles import point_name
from core.answer.one_sit import StandSit
from core.ground.layout import FeltTurn, Property
from core.keep.felt_air import LEVEL
from core.log.offers import Offer
from core.say.reason_kinds import AsFelt
from core.sit.prepare import Sit


def offer_text(offer: Offer, ground: Property) -> str:
    """An offer as a question. Args: it; the property."""
    told, name = point_name(offer.told_deg), ground.name_of(offer.stand)
    if offer.turn_deg is None:
        times = f"{offer.felt} of {offer.of} times"
        return f"{name}: with wind from {told} the air went round and round, {times}. Mark it so?"
    felt = came_from(offer.told_deg, offer.turn_deg)
    return f"{name}: {told} comes from {felt} here, {offer.felt} of {offer.of} times. Use it?"


def came_from(told_deg: float, turn_deg: float) -> str:
    """Where a wind comes from after a turn: a point, or degrees where the point is the same.

    Args: the wind told [deg]; the turn, clockwise [deg].
    """
    told, felt = point_name(told_deg), point_name(told_deg + turn_deg)
    if felt != told:
        return felt
    return f"{abs(turn_deg):.0f}° {'clockwise' if turn_deg > 0 else 'counter-clockwise'} of it"


def offer_range(offer: Offer) -> str:
    """How sure an offered turn is; empty for a swirl. Args: the offer."""
    if offer.turn_deg is None:
        return ""
    low, high = sorted((abs(offer.low_deg), abs(offer.high_deg)))
    side = "clockwise" if offer.turn_deg > 0 else "counter-clockwise"
    return f"A turn of {low:.0f} to {high:.0f}° {side} ({LEVEL:.0%} range)."


def turn_text(turn: FeltTurn) -> str:
    """A turn in use: such as `NW counts as W, felt 7 of 9 times`. Args: the turn."""
    spans = " and ".join(f"{point_name(a)} to {point_name(b)}" for a, b in turn.from_deg)
    side = "clockwise" if turn.turn_deg > 0 else "counter-clockwise"
    times = f", felt {turn.felt} of {turn.of} times" if turn.felt is not None and turn.of else ""
    return f"Wind from {spans} counts as {abs(turn.turn_deg):.0f}° {side} of it{times}."


def turn_lines(ground: Property) -> list[str]:
    """Every turn in use, by its stand: what all answers judge by. Args: the property."""
    return [
        f"{stand.name or stand.id}: {turn_text(turn)}"
        for stand in ground.stands
        for turn in stand.turns
    ]


def as_felt(sit: Sit, seat: StandSit) -> AsFelt | None:
    """How the wind of a sit is judged at a stand; None where it is as told.

    Args: the sit; the stand in it.
    """
    told = sit.rows.weather.wind_from_deg[sit.window]
    told = told[~np.isnan(told)]
    felt = felt_from_deg(seat.stand.turns, told)
    turned = np.flatnonzero(felt != told)
    if not len(turned):
        return None
    off = float(felt[turned[0]] - told[turned[0]])
    turn = (off + 180.0) % 360.0 - 180.0
    return AsFelt(float(told[turned[0]]), turn, len(turned) == len(told))


def felt_text(felt: AsFelt) -> str:
    """Such as `You felt NW come from W here.` Args: how a wind is judged."""
    some = "" if felt.always else " in some hours"
    came = came_from(felt.told_deg, felt.turn_deg)
    return f"You felt {point_name(felt.told_deg)} come from {came} here{some}."


def felt_here(sit: Sit, seat: StandSit) -> str:
    """How the wind of a sit is felt at a stand; empty where it is as told. Args: as `as_felt`."""
    felt = as_felt(sit, seat)
    return "" if felt is None else felt_text(felt)
