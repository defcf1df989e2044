"""What the slope's own air does, in words: still air, its way over the land, its turn."""

from core.angles import point_name
from core.say.reason_kinds import OverLand, Side, SlopeTurn, StillAirGoes
from core.say.words import VERDICTS_SAID, at_time, like_text
from core.sit.prepare import Sit
from core.sit.verdicts import CLEAN


def still_air_text(sit: Sit, still: StillAirGoes) -> str:
    """Where still air goes, with each side of a turn: when, and what each hour is then."""
    told: list[str] = []
    last = len(still.sides) - 1
    for i, side in enumerate(still.sides):
        when, verdict = "", VERDICTS_SAID[side.verdict]
        before = still.sides[i - 1] if i else None
        if before is not None and before.air_to_deg == side.air_to_deg:
            told[-1] += f", then from {at_time(sit, side.start_s)} {verdict}"
            continue
        if last:
            turns = next((s for s in still.sides[i:] if s.air_to_deg != side.air_to_deg), None)
            end_s = max(
                s.end_s for s in still.sides[i:] if turns is None or s.end_s <= turns.start_s
            )
            when = (
                f" from {at_time(sit, side.start_s)}"
                if turns is None
                else f" until {at_time(sit, end_s)}"
            )
        told.append(f"{_way_words(side)}{when}, {verdict}")
    return f"Likely: the slope's own air goes {'; '.join(told)}."


def over_land_text(sit: Sit, over: OverLand) -> str:
    """Where the slope's own air slides, by the names of what lies along its way."""
    from core.land.still_words import still_text as land_text  # loaded where there are heights

    whose = "Your air"
    if over.start_s is not None:
        whose = f"After {at_time(sit, over.start_s)} your air"
    elif over.end_s is not None:
        whose = f"Until {at_time(sit, over.end_s)} your air"
    like = {name: f"like {like_text(yards)}" for name, yards in over.like_yd}
    return land_text(over.way, whose=whose, like=like)


def _way_words(side: Side) -> str:
    """Where air goes on a slope: up to the NE, down to the SW, along it to the NW."""
    way = {True: "up to", False: "down to", None: "to"}[side.climbs]
    return f"{way} the {point_name(side.air_to_deg)}"


def turn_text(sit: Sit, turn: SlopeTurn) -> str:
    """When the air turns with the slope, and where it goes before and after."""
    until, over = at_time(sit, turn.start_s), at_time(sit, turn.end_s)
    told = []
    if turn.before is not None:
        told.append(f"{_way_words(turn.before)} until {until}")
    since = "" if turn.before is not None or turn.begun else f"from {until} "
    told.append(f"turning {since}to {over}")
    if turn.after is not None:
        told.append(f"then {_way_words(turn.after)}")
    swings = " It swings over nothing that counts." if turn.verdict == CLEAN else ""
    words = ", ".join(told)
    return f"{words[:1].upper()}{words[1:]}.{swings}"
