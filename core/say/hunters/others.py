"""Who else is out, for one hunter's own page: where each sits, and by which way each walks."""

from collections.abc import Sequence

from core.angles import point_name
from core.answer.one_sit import SitAnswer, StandSit
from core.ground.plan import bearing_deg
from core.party.pairs import Seated, apart_yd


def others_out(answers: Sequence[SitAnswer]) -> list[str]:
    """The others of a day, by name. Args: its sits, each with the seats that are taken.

    Returns: a sentence or two for each; what differs between the sits is said for each.
    """
    told: dict[str, list[str]] = {}
    for answer in answers:
        for line in _of_sit(answer):
            told.setdefault(line, []).append(answer.sit.clock.sit)
    everywhere = len(answers)
    return [
        line if len(sits) == everywhere else f"{' and '.join(sits).capitalize()}: {line}"
        for line, sits in told.items()
    ]


def _of_sit(answer: SitAnswer) -> list[str]:
    taken = [own for own in answer.stands if own.taken_by]
    return [_line(answer, own) for own in sorted(taken, key=lambda own: own.taken_by)]


def _line(answer: SitAnswer, other: StandSit) -> str:
    """One of the others: the seat, how it lies from the stand of this answer, the ways."""
    mine, lies = answer.best, ""
    if mine is not None and mine.stand.id != other.stand.id:
        me, them = Seated(answer.sit, mine), Seated(answer.sit, other)
        toward = point_name(float(bearing_deg(me.at_m, them.at_m)))
        lies = f", {apart_yd(me, them):.0f} yd {toward} of {mine.stand.name}"
    return f"{other.taken_by} sits at {other.stand.name}{lies}{_ways(other)}."


def _ways(other: StandSit) -> str:
    ways = {
        word: walk.way.lane.name or walk.way.lane.id
        for word, walk in (("in", other.way_in), ("out", other.way_out))
        if walk is not None
    }
    if len(set(ways.values())) == 1 and len(ways) > 1:
        return f"; in and out by {ways['in']}"
    return "".join(f"; {word} by {lane}" for word, lane in ways.items())
