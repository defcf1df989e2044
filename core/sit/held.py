"""When deer hold a place, and when a place counts at all."""

import numpy as np

from core.angles import in_ranges
from core.ground.layout import ALL_ROUND, Area
from core.units import SECONDS_PER_MINUTE

# minutes before and after sunrise and sunset: common practice, no source
DAY_FROM_BEFORE_SUNRISE, DAY_TO_AFTER_SUNSET = 90, 30
NIGHT_FROM_BEFORE_SUNSET, NIGHT_TO_AFTER_SUNRISE = 90, 45


def held_at(held: str, time_s, day):
    """Whether deer hold a place at instants of one local day. Elementwise.

    Args: the area's word (day, night, always, never); instants [epoch s]; the sun of the
    day of each, anything with sunrise and sunset [epoch s].
    """
    time_s = np.asarray(time_s, float)
    minute = SECONDS_PER_MINUTE
    if held == "day":
        start = day.sunrise_s - DAY_FROM_BEFORE_SUNRISE * minute
        return (time_s >= start) & (time_s <= day.sunset_s + DAY_TO_AFTER_SUNSET * minute)
    if held == "night":
        evening = time_s >= day.sunset_s - NIGHT_FROM_BEFORE_SUNSET * minute
        return evening | (time_s <= day.sunrise_s + NIGHT_TO_AFTER_SUNRISE * minute)
    return np.full(time_s.shape, held == "always")


class Places:
    """The areas of a property as they are judged: each for itself, or those alike as one.

    Args: the areas; whether those that are held and count alike are taken together, by the
    nearest of them, and those never held left out. Arrays of shape (..., place).
    """

    def __init__(self, areas: tuple[Area, ...], together: bool = False) -> None:
        keys = [(a.held, a.months, a.with_wind_deg) for a in areas]
        self._kinds = [k for k in dict.fromkeys(keys) if not (together and k[0] == "never")]
        kind_of_area = np.array([_place(self._kinds, k) for k in keys], np.int64)
        self.together = together
        self.of_area = kind_of_area if together else np.arange(len(areas))
        self._kind = np.arange(len(self._kinds)) if together else kind_of_area

    def __len__(self) -> int:
        return len(self._kind)

    def held(self, time_s, day):
        """Whether deer hold each place at instants. Args: instants [epoch s]; their sun."""
        words = {word: held_at(word, time_s, day) for word in {k[0] for k in self._kinds}}
        return self._spread_out([words[k[0]] for k in self._kinds], np.shape(time_s))

    def counts(self, month, wind_from_deg, half_width_deg):
        """Whether each place counts in each wind.

        Args: month, 1 to 12; wind from and half-width of its report [deg]; one shape.

        A place never held, outside its months, or whose own winds the report's span
        does not touch, does not count; without a direction its winds do not matter.
        """
        wind = np.asarray(wind_from_deg, float)

        def counts(kind):
            word, months, with_wind_deg = kind
            found = np.isin(month, months) & (word != "never")
            if with_wind_deg != ALL_ROUND:
                found = found & (in_ranges(wind, with_wind_deg, half_width_deg) | np.isnan(wind))
            return np.broadcast_to(found, wind.shape)

        return self._spread_out([counts(kind) for kind in self._kinds], wind.shape)

    def strongest(self, values):
        """The largest of each place's areas. Args: values, shape (..., area)."""
        if not self.together:
            return values
        found = np.zeros((*values.shape[:-1], len(self)))
        for i in range(len(self)):
            found[..., i] = values[..., self.of_area == i].max(axis=-1)
        return found

    def _spread_out(self, found: list, shape: tuple[int, ...]):
        """What is found of each kind, for every place of that kind."""
        if not found:
            return np.zeros((*shape, 0), bool)
        by_kind = np.moveaxis(np.stack(found), 0, -1)  # place after place in memory
        return by_kind if self.together else by_kind[..., self._kind]


def _place(kinds: list, kind) -> int:
    return kinds.index(kind) if kind in kinds else -1
