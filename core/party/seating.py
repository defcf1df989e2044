"""Everybody's seat for one sit: the beginner first, then as many as may go, then the best.

A proposal. What was chosen by hand stays, whatever is found against it, and the rest is
proposed around it.
"""

import dataclasses
import datetime
import functools
import itertools
from dataclasses import dataclass

import numpy as np

from core.answer.one_sit import SitAnswer, StandSit, answer_sit
from core.answer.shots import nothing_in_range, trails_in_wrong_air
from core.errors import BadRequest
from core.ground.hunters import person_called
from core.ground.layout import Person, Stand
from core.judge.stand import WATCH
from core.party.pairs import PairFinding, Seated, findings, spoils
from core.party.search import NOT_HIS, STAYS, Ask, best_seats
from core.sit.prepare import Log, Sit, prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.units import M_PER_YD
from core.weather.hours import Hours

MOST_HUNTERS = 6
FIRST_SIT_FT = 16.0  # official advice for tree stands; no higher for a beginner
# why a seat is not for a hunter, in the order in which they are looked at
NOT_GO, TOO_HIGH, NOT_FOR_GUESTS, NO_SHOT, TRAIL_IN_AIR = (
    "not-go",
    "too-high",
    "not-for-guests",
    "no-shot",
    "trail-in-air",
)
# a sum of values is compared digit group by digit group: beginners seated, hunters seated,
# what beginners have, what the others have
FINE = 10_000  # steps of a score
SHOT_FIRST = FINE + 1  # a seat to watch from never comes before one with a shot
BEGINNERS_HAVE, SEATED, BEGINNER_SEATED = 10**6, 10**12, 10**13
BY_HAND = 10**14  # and before all, those whose seat was chosen by hand


@dataclass(frozen=True)
class Hunter:
    """Who is out: the name, with what, and the stand chosen by hand, if any."""

    name: str
    weapon: str | None = None
    stand: str | None = None
    beginner: bool | None = None  # None: as the property says


@dataclass(frozen=True, eq=False)
class Out:
    """One hunter with the answer of the sit for his weapon and his ranges."""

    hunter: Hunter
    person: Person
    answer: SitAnswer

    @functools.cached_property
    def by_stand(self) -> dict[str, StandSit]:
        """Every stand of the sit, by id."""
        return {own.stand.id: own for own in self.answer.stands}

    def seated(self, stand_id: str) -> Seated:
        """The hunter in one of the stands. Args: its id."""
        return Seated(self.answer.sit, self.by_stand[stand_id])

    def unfit(self, own: StandSit) -> str:
        """Why a seat is not for this hunter; empty where it is. Args: the stand in the sit."""
        sit, stand, person = self.answer.sit, own.stand, self.person
        high_ft = person.climbs_ft
        if own.group != GO:
            return NOT_GO
        if high_ft is None and person.beginner:
            high_ft = FIRST_SIT_FT
            if not stand.guest_ok:
                return NOT_FOR_GUESTS
        if high_ft is not None and stand.height_ft > high_ft:
            return TOO_HIGH
        if person.beginner and nothing_in_range(sit, own):
            return NO_SHOT
        if person.beginner and trails_in_wrong_air(sit, own):
            return TRAIL_IN_AIR
        return ""


@dataclass(frozen=True, eq=False)
class Seating:
    """The proposal. `seats`: the stand of each who goes, by his place among `out`.

    `against`: for each two who go what the first does to the second, both ways round; only
    what was chosen by hand has any.
    """

    out: tuple[Out, ...]
    seats: dict[int, Seated]
    against: dict[tuple[int, int], tuple[PairFinding, ...]]

    @property
    def staying(self) -> list[int]:
        """Places among `out` of those who stay."""
        return [i for i in range(len(self.out)) if i not in self.seats]

    def in_the_way(self, i: int) -> list[tuple[StandSit, int, PairFinding]]:
        """Why each seat that would fit one who stays is none: who is in the way, and how.

        Args: his place among `out`. Returns: of each seat the first thing that was found
        between it and one who goes.
        """
        found = []
        for own in self.out[i].answer.stands:
            if self.out[i].unfit(own) or self._has(own.stand.id):
                continue
            mine = self.out[i].seated(own.stand.id)
            for k, other in self.seats.items():
                both = [*findings(mine, other), *findings(other, mine)]
                if both:
                    found.append((own, k, both[0]))
                    break
        return found

    def _has(self, stand_id: str) -> bool:
        return any(seat.own.stand.id == stand_id for seat in self.seats.values())


def seat_all(
    scene: Scene,
    weather: Hours,
    date: datetime.date,
    sit: str,
    hunters: list[Hunter],
    log: Log | None = None,
    taken: dict[str, str] | None = None,
) -> Seating:
    """Seats for everyone who is out, at once.

    Args: the scene; the weather; local date; morning, evening or all-day; one to six
    hunters of the property's people, each once; the log as in `prepare_sit`; the stands that
    others have, who are not among them.

    Raises: BadRequest for a hunter, weapon or stand that is not known, one named twice, or
    too many; as `prepare_sit`.
    """
    _check(scene, hunters)
    sits: dict[str, Sit] = {}
    answers: dict[tuple, SitAnswer] = {}
    out = []
    for hunter in hunters:
        person = person_called(scene.ground, hunter.name)
        assert person is not None
        if hunter.beginner is not None:
            person = dataclasses.replace(person, beginner=hunter.beginner)
        weapon = (hunter.weapon or "").casefold()
        if weapon not in sits:
            sits[weapon] = prepare_sit(scene, weather, date, sit, weapon=hunter.weapon, log=log)
        his = sits[weapon].for_hunter(person)
        key = weapon, tuple(his.range_yd(stand) for stand in scene.ground.stands)
        if key not in answers:
            answers[key] = answer_sit(his, taken)
        out.append(Out(hunter, person, dataclasses.replace(answers[key], sit=his)))
    return _seated(tuple(out))


def _check(scene: Scene, hunters: list[Hunter]) -> None:
    if not 1 <= len(hunters) <= MOST_HUNTERS:
        raise BadRequest(
            f"{len(hunters)} hunters", "the hunters", f"Name one to {MOST_HUNTERS} of them."
        )
    for what, names in (
        ("the hunters", [h.name.casefold() for h in hunters]),
        ("the seats", [h.stand for h in hunters if h.stand]),
    ):
        twice = next((name for name in names if names.count(name) > 1), None)
        if twice is not None:
            raise BadRequest(f"'{twice}' is named twice", what, "Name each once.")
    known = {stand.id for stand in scene.ground.stands}
    for hunter in hunters:
        if hunter.stand and hunter.stand not in known:
            raise BadRequest(
                f"no stand has the id '{hunter.stand}'", "the seats", "Use a stand's id."
            )


def _seated(out: tuple[Out, ...]) -> Seating:
    """The best seats around what was chosen by hand."""
    options = [_options(one, out) for one in out]
    stands = sorted({s.id for own in options for s in own}, key=_names(out))
    value = np.full((len(out), len(stands)), NOT_HIS, np.int64)
    for i, (one, own) in enumerate(zip(out, options, strict=True)):
        for stand in own:
            value[i, stands.index(stand.id)] = _worth(one, stand)
    chosen = best_seats(value, _agreeing(out, stands), _asked(out, stands))
    taken = {i: out[i].seated(stands[at]) for i, at in enumerate(chosen) if at != STAYS}
    against = {
        (i, k): tuple(findings(taken[i], taken[k])) for i, k in itertools.permutations(taken, 2)
    }
    return Seating(out, taken, against)


def _names(out: tuple[Out, ...]):
    """The order of stands by name, so that no tie is settled by the order in the file."""
    names = {s.id: s.name for s in out[0].answer.sit.scene.ground.stands}
    return lambda stand_id: (names[stand_id], stand_id)


def _options(one: Out, out: tuple[Out, ...]) -> list[Stand]:
    """The stands a hunter may be proposed; the one chosen by hand alone where there is one."""
    if one.hunter.stand:
        return [one.by_stand[one.hunter.stand].stand]
    kept = {o.hunter.stand for o in out}
    return [
        own.stand for own in one.answer.stands if own.stand.id not in kept and not one.unfit(own)
    ]


def _worth(one: Out, stand: Stand) -> int:
    """What it is worth that a hunter has a seat, see the digit groups above."""
    own = one.by_stand[stand.id]
    shot = own.wanted == WATCH or not nothing_in_range(one.answer.sit, own)
    has = round(min(max(own.score, 0.0), 1.0) * FINE) + (SHOT_FIRST if shot else 0)
    by_hand = BY_HAND if one.hunter.stand else 0
    if one.person.beginner:
        return by_hand + BEGINNER_SEATED + SEATED + has * BEGINNERS_HAVE
    return by_hand + SEATED + has


def _agreeing(out: tuple[Out, ...], stands: list[str]):
    """Whether two hunters in two seats agree, as far as distances tell, see `best_seats`.

    Two who were both seated by hand agree: that is theirs to settle, and it is told.
    """
    scene = out[0].answer.sit.scene
    places = scene.stands_m[[scene.index(scene.ground.stand(s)) for s in stands]]
    yards = np.hypot(*(places[:, None] - places).transpose(2, 0, 1)) / M_PER_YD
    agree = np.ones((len(out), len(stands)) * 2, bool)
    for i, k in itertools.permutations(range(len(out)), 2):
        if not _both_by_hand(out[i], out[k]):
            agree[i, :, k, :] = yards >= scene.ground.sit.apart_yd
    return agree


def _both_by_hand(one: Out, other: Out) -> bool:
    return bool(one.hunter.stand and other.hunter.stand)


def _asked(out: tuple[Out, ...], stands: list[str]) -> Ask:
    """Whether two hunters in two seats spoil nothing for each other, each pair found out once."""
    seats: dict[tuple[int, int], Seated] = {}
    known: dict[frozenset, bool] = {}

    def seat(i: int, a: int) -> Seated:
        if (i, a) not in seats:
            seats[i, a] = out[i].seated(stands[a])
        return seats[i, a]

    def agree(i: int, a: int, k: int, b: int) -> bool:
        if _both_by_hand(out[i], out[k]):
            return True
        one, other = seat(i, a), seat(k, b)
        pair = frozenset((_key(one), _key(other)))
        if pair not in known:
            known[pair] = not spoils(one, other)
        return known[pair]

    return agree


def _key(seat: Seated) -> tuple:
    """Hunters of one weapon and range are alike in a seat."""
    season = seat.sit.clock.season
    return season and season.weapon, seat.own.range_yd, seat.own.stand.id
