"""Pick one: a drawn morning or evening on this ground, in a wind that really blew.

A seed always draws the same situation. The answer is the home page's own.
"""

import dataclasses
import datetime
import functools
import random
from collections.abc import Callable
from dataclasses import dataclass

from core.answer.one_sit import SitAnswer, answer_sit, stand_sit
from core.errors import BadRequest
from core.ground.layout import Property
from core.judge.stand import IS_CLOSED, NOT_NOW
from core.sit.clock import sit_clock
from core.sit.dates import covers
from core.sit.minutes import EVENING, MORNING, SHORT_MIN
from core.sit.prepare import Sit, prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import GO
from core.weather.files.typical import typical_hours
from core.weather.hours import DIRECTED, Hours

OTHER = "A second hunter"  # supposed because the learner asked for one: nobody is named
MOST_TRIES = 60
NONE_SHARE = 0.07  # of the situations, staying out is right
WIND_WITHIN_DAYS = 10  # a wind of the same time of the season
DAY_S = 86400
ONE_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, eq=False)
class Situation:
    """A question: what would you do? `taken`: where the other hunter sits, by stand id."""

    seed: int
    date: datetime.date
    sit: str
    wind_date: datetime.date
    weather: Hours
    ready: Sit
    taken: dict[str, str]

    @functools.cached_property
    def answer(self) -> SitAnswer:
        """Every stand judged and in order, as on the home page."""
        return answer_sit(self.ready, self.taken)


def season_days(ground: Property, year: int) -> list[datetime.date]:
    """Every day of a year that some season covers.

    Args: the property; the calendar year. Raises: BadRequest without a season.
    """
    if not ground.seasons:
        raise BadRequest(
            f"{ground.name} has no season", "the property", "Add one to draw situations."
        )
    first = datetime.date(year, 1, 1)
    days = [first + i * ONE_DAY for i in range((datetime.date(year + 1, 1, 1) - first).days)]
    return [d for d in days if any(covers(s.first, s.last, d) for s in ground.seasons)]


def wind_of(
    wind_date: datetime.date, date: datetime.date, winds: Callable[..., Hours] = typical_hours
) -> Hours:
    """The hours of one day laid onto another.

    Args: the day the wind blew; the day it is laid onto; what gives a day's hours.
    """
    hours = winds(wind_date)
    return dataclasses.replace(hours, start_s=hours.start_s + DAY_S * (date - wind_date).days)


def draw_situation(
    scene: Scene,
    year: int,
    seed: int,
    *,
    second: bool = False,
    winds: Callable[..., Hours] = typical_hours,
) -> Situation:
    """The situation of a seed.

    Args:
        scene: of the property.
        year: whose days are drawn.
        seed: any whole number; the same one draws the same situation.
        second: whether another hunter already sits at a stand that is go.
        winds: gives the hours round a date; the typical year unless told.

    Returns: a situation where some stands are go and some are not, or, for about one
    seed in fifteen, where none is; after MOST_TRIES draws the last one as it is.
    Raises: BadRequest for a property without stands or seasons.
    """
    if not scene.ground.stands:
        raise BadRequest(f"{scene.ground.name} has no stands", "the property", "Add a stand.")
    chance = random.Random(f"situation {seed}")  # near numbers draw unlike ones
    days = season_days(scene.ground, year)
    none_go = chance.random() < NONE_SHARE and not second
    for left in reversed(range(MOST_TRIES)):
        date, sit, wind_date, weather = _drawn(days, chance, winds)
        if left and not none_go and _calm_at_best(scene, date, sit, weather):
            continue  # no stand can be go: not worth judging
        ready = prepare_sit(scene, weather, date, sit)
        situation = Situation(seed, date, sit, wind_date, weather, ready, {})
        if _fits(situation, none_go, chance):
            break
    return _with_other(situation, chance) if second else situation


def _drawn(days, chance: random.Random, winds):
    """Date, sit, day of the wind, and its hours."""
    date = chance.choice(days)
    near = [d for d in days if abs((d - date).days) <= WIND_WITHIN_DAYS]
    wind_date, sit = chance.choice(near), chance.choice((MORNING, EVENING))
    return date, sit, wind_date, wind_of(wind_date, date, winds)


def _calm_at_best(scene: Scene, date: datetime.date, sit: str, weather: Hours) -> bool:
    """Whether an hour of first or last light has no wind that can be called."""
    clock = sit_clock(scene.ground, date, sit)
    prime_min = clock.prime_first_min + clock.prime_last_min
    hours = weather.at_rows(clock.row_start_s[prime_min >= SHORT_MIN])
    least = scene.ground.air.cant_call_below_mps
    return bool(((hours.state != DIRECTED) | (hours.speed_mps < least)).any())


def _fits(situation: Situation, none_go: bool, chance: random.Random) -> bool:
    """Whether stands differ (or, where wanted, none is go), judging as few as it takes."""
    sit = situation.ready
    some_directed = bool(sit.rows.directed[sit.window].any())
    if not some_directed:  # calm all through teaches nothing new about stands
        return False
    stands = [s for s in sit.scene.ground.stands if not s.closed]
    chance.shuffle(stands)
    seen: set[bool] = set()
    for stand in stands:
        seat = stand_sit(sit, stand)
        if NOT_NOW in seat.causes or IS_CLOSED in seat.causes:
            continue
        seen.add(seat.group == GO)
        if len(seen) == 2 or (none_go and True in seen):
            break
    return seen == ({False} if none_go else {True, False})


def _with_other(situation: Situation, chance: random.Random) -> Situation:
    """Another hunter seated at one of the stands that are go."""
    go = [s.stand.id for s in situation.answer.stands if s.group == GO]
    if not go:
        return situation
    return dataclasses.replace(situation, taken={chance.choice(go): OTHER})
