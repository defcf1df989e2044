"""Chances as plain data for `--json`."""

from core.answer.chances import Chances
from core.answer.one_sit import SitAnswer, StandSit
from core.chance.plan_b import plan_b
from core.chance.tenths import in_tenths
from core.say.chance.words import OUT_ANYWAY, plan_text, standing_of


def chance_dict(chances: Chances | None, seat: StandSit | None) -> dict:
    """The chance of one stand, null with a reason where there is none.

    Args: the chances of its sit, None where nobody asked for them; the stand, None for none.
    Returns: nothing at all where nobody asked.
    """
    if chances is None:
        return {}
    shares = chances.shares(seat.stand.id) if seat is not None else None
    if shares is None or seat is None:
        return {"chance": None, "chance_reason": chances.none or OUT_ANYWAY}
    found = {
        "of_ten": in_tenths(shares),
        "go": round(shares[0], 3),
        "draws": chances.draws,
        "source": chances.source,
        "q": round(chances.misses.q, 2),
        "lead_h": round(chances.lead_h),
        "standing": standing_of(chances, seat) or None,
    }
    return {"chance": found, "chance_reason": None}


def next_chance(answer: SitAnswer) -> dict:
    """The chance of a sit's first choice, and plan B. Args: its answer."""
    found = chance_dict(answer.chances, answer.best)
    return found | ({"plan_b": plan_dict(answer)} if found else {})


def plan_dict(answer: SitAnswer) -> dict | None:
    """Plan B; None without one. Args: an answer."""
    plan = plan_b(answer)
    if plan is None:
        return None
    return {
        "stand": answer.judged[plan.at].stand.id,
        "covers": plan.covers,
        "of_other": plan.left,
        "words": plan_text(answer),
    }
