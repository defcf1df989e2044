"""A tried spot in words, and as a stand of the document."""

from core.answer.tryout import LANE_WITHIN_YD, STEP_DAYS, SeasonShare, Tried
from core.ground.drawing.edits import added, told_all
from core.ground.layout import Stand
from core.judge.stand import NO_WAY
from core.say.answer_lines import air_line, way_in_line, wrong_line
from core.say.reason_kinds import BeDown, KeptOut, NotBefore, Reason, Walk, WayCrosses
from core.say.reason_texts import below_group
from core.say.reasons import reasons
from core.say.words import GROUPS_SAID, VERDICTS_SAID
from core.sit.scene import IN
from core.sit.verdicts import CANT, GO, STAY

KEPT = ("seat", "height_ft", "cover", "lies", "range_yd", "downhill_deg", "grade_pct")


def tried_lines(tried: Tried) -> list[str]:
    """What a spot would be in its sit: the answer, why, where its air goes, the way in.

    Args: the spot in its sit. Without a lane near, the answer is by the air alone.
    """
    seat, sit = tried.own, tried.sit
    # the walk has a line of its own
    why = [one for one in reasons(sit, seat) if not _of_the_way_in(one)]
    group, verdict = (
        (seat.group, seat.verdict) if tried.lanes else (tried.air_group, tried.air_verdict)
    )
    if group == STAY:  # nobody sits: no time to be there
        why = [one for one in why if not isinstance(one, BeDown | NotBefore)]
    alone = "" if tried.lanes else ", by its air alone"
    what = "" if group == CANT else f": {VERDICTS_SAID[verdict]}"
    lines = [
        f"{GROUPS_SAID[group]}{what}{alone}.",
        *dict.fromkeys([below_group(sit, group, one) for one in why][:3]),
        air_line(sit, seat),
        wrong_line(sit, seat, why),
        way_in_line(sit, seat)
        if tried.lanes
        else f"No lane comes within {LANE_WITHIN_YD:g} yd: the walk is not judged.",
    ]
    return [line for line in dict.fromkeys(lines) if line]


def _of_the_way_in(reason: Reason) -> bool:
    if isinstance(reason, Walk):
        return reason.way == IN
    return isinstance(reason, WayCrosses) or reason == KeptOut(NO_WAY)


def share_line(share: SeasonShare) -> str:
    """A season's share in one line. Args: the share of mornings or of evenings."""
    counts = share.with_way if share.led else share.by_air
    go, cant = counts[GO], counts[CANT]
    percent = round(100 * go / share.n_sits) if share.n_sits else 0
    by = "" if share.led else " by its air alone"
    return (
        f"{share.sit.capitalize()}s: go on {go} of {share.n_sits} ({percent} %){by}, "
        f"can't call on {cant}. Every {STEP_DAYS}rd day of the season was tried."
    )


def with_stand(document: dict, stand: Stand) -> dict:
    """A document with the tried spot as a stand of its own name and id.

    Args: a property's document, not changed; the spot. Raises: BadProperty.
    """
    place = {"type": "Point", "coordinates": list(stand.at)}
    document, id_ = added(document, "stand", place)
    members = [((name,), getattr(stand, name)) for name in KEPT]
    return told_all(document, id_, members)
