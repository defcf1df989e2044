"""What a season review comes to, in words: what is served, what is left over and why."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from core.angles import HALF_WIDTH_16_DEG, POINT_WIDTH_DEG, POINTS_16
from core.season.gaps import sit_winds
from core.season.one_stand import BY_CALM, BY_SIT, BY_WAY
from core.season.report import sits_words
from core.season.review import HalfAnswer, SeasonAnswer
from core.season.ruler import Ruler, winds_words
from core.sit.verdicts import CANT, GO, STAY, WRONG

SERVED, STILL, UNSURE, WRONG_ALL, SHUT = range(5)  # why a sit has no stand
MOST_TOLD = 4
ANY = "Any stand"
NO_WIND = "calm or variable"


def why_none(group, out, watch):
    """Why each sit has no stand: the best that is left of it.

    Args: groups of the sits at each stand; what keeps them out (`OUT_WORDS`); whether the
    owner only watches from there, which serves no sit. Shapes (sit, stand).

    Returns: shape (sit,). SERVED where a stand is go; STILL where calm, light or missing
    wind is what can't be called at one; UNSURE where one can't be called for another reason;
    WRONG_ALL where all are to stay out, one at least for its air; SHUT for the rest.
    """
    out, counts = np.asarray(out), np.logical_not(watch)
    cant = (np.asarray(group) == CANT) & counts
    wrong = (np.asarray(group) == STAY) & np.isin(out, (BY_SIT, BY_WAY)) & counts
    served = ((np.asarray(group) == GO) & counts).any(axis=1)
    still = (cant & (out == BY_CALM)).any(axis=1)
    return np.select(
        [served, still, cant.any(axis=1), wrong.any(axis=1)],
        [SERVED, STILL, UNSURE, WRONG_ALL],
        SHUT,
    )


@dataclass(frozen=True)
class LeftOver:
    """How many sits have no stand, by why; `winds` those that another stand could serve,
    most first: a compass point or `NO_WIND`, and sits."""

    still: int
    unsure: int
    wrong: int
    shut: int
    winds: tuple[tuple[str, int], ...]

    @property
    def sits(self) -> int:
        return self.still + self.unsure + self.wrong + self.shut

    def report(self) -> dict:
        """Plain values for --json."""
        return {"still": self.still, "unsure": self.unsure, "wrong": self.wrong, "shut": self.shut}


def left_over(answer: SeasonAnswer) -> LeftOver:
    """The sits without a stand, by why. Args: the answer."""
    why = np.concatenate([_why(half) for half in answer.halves])
    direction, _ = sit_winds(answer)
    hole = direction[np.isin(why, (UNSURE, WRONG_ALL))]
    still, unsure, wrong, shut = np.bincount(why, minlength=SHUT + 1)[STILL:].tolist()
    names = Counter(_point(d) for d in hole)
    return LeftOver(still, unsure, wrong, shut, tuple(names.most_common()))


def _why(half: HalfAnswer):
    if not half.by_stand:
        return np.full(len(half.half), SHUT)
    out, watch = (
        np.stack([getattr(s, name) for s in half.by_stand], axis=1) for name in ("out", "watch")
    )
    return why_none(half.group, out, watch)


def _point(wind_from_deg: float) -> str:
    if np.isnan(wind_from_deg):
        return NO_WIND
    return POINTS_16[int((wind_from_deg + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG) % 16]


def halves_sat(answer: SeasonAnswer) -> list[HalfAnswer]:
    """Mornings and evenings, without those of which the history has none. Args: the answer."""
    return [half for half in answer.halves if len(half.half)]


def ruler_rows(answer: SeasonAnswer, report: dict, ruler: Ruler):
    """The rows of the ruler: what any stand offers, then each, those most often go first.

    Args: the answer; its report; the winds that work. Returns: names; verdicts, shape
    (row, 36); the share of the season's sits that each is go. Seats to watch from do not
    count for any stand.
    """
    go = {row["id"]: row[ruler.sit]["go"] for row in report["stands"]}
    watch = report["property"]["watch_seats"]
    order = sorted(range(len(answer.stands)), key=lambda i: -go[answer.stands[i].id])
    counts = [i for i in order if answer.stands[i].id not in watch]
    best = ruler.verdict[counts].min(axis=0, initial=WRONG)
    stands = [answer.stands[i] for i in order]
    shares = [report["property"][ruler.sit]["some_stand_go"], *(go[s.id] for s in stands)]
    return [ANY, *(s.name for s in stands)], np.vstack([best, ruler.verdict[order]]), shares


def told_lines(answer: SeasonAnswer) -> list[str]:
    """The hole and what would fill it, for the command line. Args: the answer."""
    if not answer.stands:
        return ["There is no stand yet. Draw the first one on the map."]
    left = left_over(answer)
    return [hole_told(left), fill_told(left)]


def year_words(answer: SeasonAnswer) -> str:
    """How the share with some stand differs between years; empty for one year.

    Args: the answer.
    """
    if answer.one_year:
        return ""
    year = np.concatenate([h.year for h in answer.halves])
    some = np.asarray(answer.serves.any(axis=1))
    each = [float(some[year == y].mean()) for y in answer.years]
    return f"{min(each):.0%} in the worst of {len(each)} years, {max(each):.0%} in the best"


def served_words(answer: SeasonAnswer, ids: Sequence[str]) -> str:
    """What the fewest stands serve. Args: the answer; their ids."""
    picked = [s.id in ids for s in answer.stands]
    if not any(picked):
        return "No stand is go in any sit."
    whole = int(answer.serves.any(axis=1).sum())
    kept = int(answer.serves[:, picked].any(axis=1).sum())
    who = "One stand alone serves" if len(ids) == 1 else f"{len(ids)} stands together serve"
    return f"{who} {kept} of these {sits_words(whole)}:"


def stand_words(answer: SeasonAnswer, ids: Sequence[str], rulers: Sequence[Ruler]) -> list[str]:
    """The winds that work at some stands, one line each. Args: the answer; ids; the winds
    that work in each kind of sit."""
    lines = []
    for at, stand in enumerate(answer.stands):
        if stand.id not in ids:
            continue
        said = {r.sit: winds_words(r.verdict[at]) for r in rulers}
        if len(set(said.values())) == 1:
            words = next(iter(said.values()))
        else:
            words = ", ".join(f"{sit}s {words}" for sit, words in said.items())
        lines.append(f"{stand.name}: {words}")
    return lines


def hole_told(left: LeftOver) -> str:
    """Where the hole is. Args: of `left_over`."""
    if not left.sits:
        return "No sit is left without a stand."
    are = "is" if left.sits == 1 else "are"
    said = [f"{sits_words(left.sits)} {are} left without a stand."]
    if left.still:
        of = "all" if left.still == left.sits else left.still
        said.append(f"In {of} of these the air is too still or light to call.")
    if left.winds:
        most = [f"{name} ({n})" for name, n in left.winds[:MOST_TOLD]]
        more = f", {len(left.winds) - MOST_TOLD} more" if len(left.winds) > MOST_TOLD else ""
        said.append(f"Holes by wind, in sits: {', '.join(most)}{more}.")
    else:
        said.append("No wind is a hole.")
    if left.unsure:
        said.append(
            f"In {left.unsure} the best stand can't be called: it has no way in drawn, lies in a "
            "bottom or on a slope that turns, or the wind swirls there."
        )
    if left.shut:
        said.append(f"In {left.shut} every stand is closed, not wanted or in too strong a wind.")
    return " ".join(said)


def fill_told(left: LeftOver) -> str:
    """What could fill it. Args: of `left_over`."""
    if left.winds:
        return f"Another stand or way in, for {left.winds[0][0]} wind first."
    if left.shut:
        return "Open a stand that is closed or not wanted then, where that can be."
    if left.still:
        return "No new stand fills still air. A new one gives a second choice."
    return "Nothing is needed for the wind."
