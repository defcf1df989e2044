"""How likely a sit holds, in tenths and in plain sentences; never in percent."""

from collections import Counter
from collections.abc import Iterable

import numpy as np

from core.angles import point_name
from core.answer.chances import Chances
from core.answer.change import ranges_deg, works_by_degree
from core.answer.one_sit import SitAnswer, StandSit
from core.chance.count import LEAST_CASES, own_count
from core.chance.examples import that_stay_out
from core.chance.misses import MOST_Q
from core.chance.plan_b import plan_b
from core.chance.tenths import STANDINGS, in_tenths, standing
from core.keep.entries import Entry
from core.say.reason_kinds import AirOnTrail, AirReaches, Fact, KeptOut, Reason, Walk
from core.say.reasons import reasons
from core.sit.prepare import Sit
from core.sit.scene import IN
from core.sit.verdicts import CANT, GO

TOSS_UP = "Go as forecast, but a toss-up"
ELSEWHERE = (
    "From how forecasts missed on three winter days in northern Europe, not on your ground. "
    "About wind, not deer."
)
STRAIGHT = "Draws take slope air straight, where the answer itself follows your heights."
OUT_ANYWAY = "out whatever the wind"
SURELY = 9  # of ten, from which no more is claimed
MANY_SHARE = 0.25  # of the draws that are out: what is rarer is not told
RUNS_CREDIT = "Open-Meteo.com, open data of ECMWF"
RUNS_APART_DEG = 30  # common practice, no source: over that, forecast and runs disagree
LONG_RUN_DEG, NEARLY_ALL_DEG = 180, 340


def tenths_of(chances: Chances | None, seat: StandSit) -> list[int] | None:
    """Go, can't call and stay out, of ten. Args: chances; the stand. None: none known."""
    shares = chances.shares(seat.stand.id) if chances is not None else None
    return None if shares is None else in_tenths(shares)


def standing_of(chances: Chances | None, seat: StandSit) -> str:
    """Holds, may hold, toss-up; empty for what is no go, or has no chance.

    Args: the chances of the sit; the stand in it.
    """
    shares = chances.shares(seat.stand.id) if chances is not None else None
    return standing(shares[0]) if shares is not None and seat.group == GO else ""


def is_toss_up(chances: Chances | None, seat: StandSit) -> bool:
    """Whether a go holds in under half of the draws. Args: as `standing_of`."""
    return standing_of(chances, seat) == STANDINGS[-1]


def how_many(tenths: int) -> str:
    """Tenths in words, with honest ends. Args: 0 to 10."""
    if tenths <= 0:
        return "hardly ever"
    return "9 of 10 or better" if tenths >= SURELY else f"about {tenths} of 10"


def short_text(chances: Chances | None, seat: StandSit) -> str:
    """How likely, in a few words, for a row of a list; empty without a chance.

    Args: as `standing_of`.
    """
    tenths = tenths_of(chances, seat)
    if tenths is None:
        return ""
    if seat.group == GO:
        held, said = how_many(tenths[0]), standing_of(chances, seat)
        if said == STANDINGS[0]:
            return f"holds in {held}"
        return f"{said}: {held}"
    return f"but go in {how_many(tenths[0])}" if tenths[0] >= 5 else ""


def chance_text(answer: SitAnswer, seat: StandSit) -> str:
    """The honest sentence: in how many of ten it holds, and what happens in the others.

    Args: an answer with its chances; the stand. Returns: why there is none where there is
    none; empty where nobody asked, or the stand is out whatever the wind.
    """
    chances = answer.chances
    if chances is None:
        return ""
    if chances.none:
        return f"{chances.none[:1].upper()}{chances.none[1:]}."
    shares, tenths = chances.shares(seat.stand.id), tenths_of(chances, seat)
    if shares is None or tenths is None:
        return ""
    rest = _rest_text(chances, seat, tenths)
    if max(shares) <= 0.5:
        return f"{_undecided(answer.sit, seat)} {_goes_text(seat, tenths)} {rest}".rstrip()
    return f"{_goes_text(seat, tenths)} {rest}".rstrip()


def later_text(answer: SitAnswer) -> str:
    """How likely a later sit's first choice holds, and plan B. Args: an answer with chances."""
    best, chances = answer.best, answer.chances
    if best is None or chances is None:
        return ""
    told = f"{chances.none}" if chances.none else short_text(chances, best)
    said = f"{told[:1].upper()}{told[1:]}." if told else ""
    return f"{said} {plan_text(answer)}".strip()


def _goes_text(seat: StandSit, tenths: list[int]) -> str:
    if seat.group == GO:
        if tenths[0] <= 0:
            return "Hardly ever holds."
        return f"Holds in {how_many(tenths[0])}: the wind stays right for the whole sit."
    if tenths[0] <= 0:
        return "Hardly ever go."
    return f"Not go as forecast, but go in {how_many(tenths[0])}."


def _undecided(sit: Sit, seat: StandSit) -> str:
    """None of the three over half: what decides."""
    run = working_run(sit, seat)
    if run is None:
        return "Can't say yet: decide at the truck."
    return f"Can't say yet: decide at the truck. It takes wind {between_text(*run)}."


def _rest_text(chances: Chances, seat: StandSit, tenths: list[int]) -> str:
    """What happens in the draws that are no go."""
    told = []
    if tenths[1]:
        told.append(f"in {tenths[1]} {_cant_text(chances, seat)}")
    if tenths[2]:
        told.append(f"in {tenths[2]} {stay_text(chances, seat)}")
    line = "; ".join(told)
    return f"{line[0].upper()}{line[1:]}." if line else ""


def _cant_text(chances: Chances, seat: StandSit) -> str:
    """Why draws can't be called: too light where most of them are."""
    cant = chances.groups[seat.stand.id] == CANT
    drawn = chances.drawn
    least_mps = drawn.ground.air.cant_call_below_mps if drawn is not None else 0.0
    light = float(np.mean(chances.slowest_mps[cant] < least_mps)) if cant.any() else 0.0
    return "it falls too light to call" if light > 0.5 else "it can't be called"


def stay_text(chances: Chances, seat: StandSit) -> str:
    """What goes wrong in most of the draws that are out, and what else goes wrong in many.

    Args: chances; the stand. Returns: such as "your air reaches Cane or another place".
    """
    each = [_cause(sit, reasons(sit, own)) for sit, own in that_stay_out(chances, seat.stand)]
    kinds = Counter(kind for kind, _ in each).most_common(2)
    told = []
    for kind, n in kinds:
        if n >= MANY_SHARE * len(each):
            names = Counter(name for of, name in each if of == kind).most_common(2)
            told.append(f"{kind} {names[0][0]}".rstrip() + " or another place" * (len(names) > 1))
    return ", or ".join(told) or "it goes wrong"


def _cause(sit: Sit, why: tuple[Reason, ...]) -> tuple[str, str]:
    """What keeps a draw out: in words, and the place that it is about, empty for none."""
    reason, name = why[0], sit.scene.ground.name_of
    if reason is Fact.LOW_SHARE:  # what spoils the air, where anything does
        spoils = (r for r in why if isinstance(r, AirReaches | AirOnTrail))
        reason = next(spoils, reason)
    if isinstance(reason, AirReaches):
        return "your air reaches", name(reason.first.place)
    if isinstance(reason, AirOnTrail):
        return "your air lies on", name(reason.place)
    if isinstance(reason, Walk) and reason.place:
        way = "in" if reason.way == IN else "out"
        return f"the air of your way {way} reaches", name(reason.place)
    return ("it blows too hard" if isinstance(reason, KeptOut) else "it goes wrong"), ""


def working_run(sit: Sit, seat: StandSit) -> tuple[int, int] | None:
    """The run of winds that a stand works with and the forecast lies in, or the widest.

    Args: the sit; the stand. Returns: its ends, clockwise [deg]; None where no run says much.
    """
    runs = [(a, b) for a, b in ranges_deg(works_by_degree(sit, seat))]
    runs = [(a, b) for a, b in runs if (b - a) % 360 < NEARLY_ALL_DEG and (a, b) != (0, 360)]
    if not runs:
        return None
    wind = sit.mean_wind_deg
    holding = [(a, b) for a, b in runs if (wind - a) % 360 <= (b - a) % 360]
    return (holding or [max(runs, key=lambda r: (r[1] - r[0]) % 360)])[0]


def between_text(from_deg: float, to_deg: float) -> str:
    """A run of winds, such as "between W and NW". Args: its ends, clockwise [deg]."""
    a, b = point_name(from_deg), point_name(to_deg)
    span = (to_deg - from_deg) % 360
    if a == b and span < 45:
        return f"about {a}"
    round_by = f" (by {point_name(from_deg + span / 2)})" if span >= LONG_RUN_DEG else ""
    return f"between {a} and {b}{round_by}"


def plan_text(answer: SitAnswer) -> str:
    """Plan B in a sentence; empty where none adds one in ten. Args: an answer with chances."""
    plan, best = plan_b(answer), answer.best
    if plan is None or best is None:
        return ""
    name, run = answer.judged[plan.at].stand.name, working_run(answer.sit, best)
    where = "the wind at the truck is not right for it"
    if run is not None:
        where = f"the wind at the truck is not {between_text(*run)}"
    if plan.covers == plan.left:
        covers = "the other 1" if plan.left == 1 else f"all of the other {plan.left}"
    else:
        covers = f"{plan.covers} of the other {plan.left}"
    return f"If {where}, go to {name}: it covers {covers}."


def law_text(chances: Chances | None) -> str:
    """What the chances rest on, in small words; empty without any. Args: chances."""
    if chances is None or chances.none:
        return ""
    misses, told = chances.misses, [ELSEWHERE]
    if misses.pairs:
        told.append(f"Moved by {misses.pairs} hours of your own: here they miss {_far(misses.q)}.")
    if chances.drawn is not None and chances.drawn.scene.heights is not None:
        told.append(STRAIGHT)
    if misses.runs is not None:
        told.append(
            f"Drawn around {len(misses.runs)} runs of another model ({RUNS_CREDIT}), moved onto "
            "this forecast: not tested for your ground."
        )
        if chances.runs_apart_deg > RUNS_APART_DEG:
            told.append(
                f"Those runs have the wind {chances.runs_apart_deg:.0f}° from this forecast: "
                "trust both less."
            )
    return " ".join(told)


def _far(q: float) -> str:
    """How far forecasts miss here against there. Args: q, as `core.chance.misses` holds it."""
    if 0.95 <= q < 1.05:
        return "about as far as there"
    more = " or further" if q >= MOST_Q else ""
    return f"{q:.1f} times as far as there{more}"


def count_text(entries: Iterable[Entry]) -> str:
    """The program's own count, where it has cases enough; empty before that.

    Args: entries of the log. Returns: such as "Said 7 of 10: held in 15 of 22."
    """
    told = [
        f"said {said} of 10: held in {held} of {n}"
        for said, (held, n) in own_count(entries).items()
        if n >= LEAST_CASES
    ]
    line = "; ".join(told)
    return f"{line[0].upper()}{line[1:]}." if line else ""


def changed_text(before: SitAnswer, after: SitAnswer) -> str:
    """That another stand would come first by the draws; empty where none would.

    Args: the answer as it is shown; with its chances.
    """
    if before.best is None or after.best is None or before.order[:1] == after.order[:1]:
        return ""
    told = short_text(after.chances, after.best)
    return f"{after.best.stand.name} holds better ({told}): it comes first from the next tap on."
