"""The other half of the same day: an evening beside its morning, a morning beside its evening."""

from core.answer.one_sit import SitAnswer, answer_sits
from core.errors import NoForecast
from core.sit.minutes import EVENING, MORNING
from core.sit.prepare import prepare_sit

OTHER_HALF = {MORNING: EVENING, EVENING: MORNING}


def other_half(answer: SitAnswer) -> SitAnswer | None:
    """The answer for the other half of the day, in the same weather, for the same hunter.

    Args: the answer in hand. Returns: None for a whole day, and where the weather does not
    reach the other half.
    """
    sit, clock = answer.sit, answer.sit.clock
    if clock.sit not in OTHER_HALF:
        return None
    try:
        other = prepare_sit(
            sit.scene,
            sit.weather,
            clock.date,
            OTHER_HALF[clock.sit],
            hunter=sit.hunter.name if sit.hunter else None,
            weapon=clock.season.weapon if clock.season else None,
            log=sit.sits.log,
        )
    except NoForecast:
        return None
    return answer_sits(other.sits, answer.taken)[other.at]
