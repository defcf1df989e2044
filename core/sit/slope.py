"""The slope wind of a stand at any instant of some sits, and the sun that makes it.

The sun of four years stands for that of all.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from core.air import slopes
from core.air.turning import minute_slope_mps
from core.ground.layout import Property, Stand
from core.sit.clock import Clock
from core.sit.dates import Dates, later_s
from core.sit.rows import Blocks
from core.sky.daylight import beam_cos, slope_irradiance_wm2, sun_position
from core.units import SECONDS_PER_HOUR, SECONDS_PER_MINUTE

if TYPE_CHECKING:
    from core.land.shade import Shade

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

# steps between sunrise and sunset as shares of the day: closer where the sun is low, for
# there refraction bends its path
BEAM_SHARES = np.concatenate(
    [np.linspace(0.0, 0.05, 16), np.linspace(0.05, 0.95, 32)[1:-1], np.linspace(0.95, 1.0, 16)]
)
PARTS_OF_STEP = np.linspace(0.0, 1.0, 17)
STEPS_AT_ONCE = 8
CLOSER = 4  # times that a crossing is looked for between two steps
RISEN_S = 5.0  # at sunrise itself the numbers of the sun jump: refraction sets in


@dataclass(frozen=True, eq=False)
class Beams:
    """The sun of some dates, to find beams on slopes: rise and set, shapes (date,), and its
    way from just after the one to just before the other, shapes (date, step).
    """

    rise_s: Floats
    set_s: Floats
    time_s: Floats
    zenith_deg: Floats
    azimuth_deg: Floats

    def turned(self) -> "Beams":
        """The same with time run backwards."""
        zenith, azimuth = self.zenith_deg[:, ::-1], self.azimuth_deg[:, ::-1]
        return Beams(-self.set_s, -self.rise_s, -self.time_s[:, ::-1], zenith, azimuth)


class StandSlope:
    """The slope wind of a stand at instants of some sits, before the general wind fades it.

    Args: the clock of the sits; their hours; the stand, with a slope; the land about it,
    None without heights.
    """

    def __init__(
        self, clock: Clock, found: Blocks, stand: Stand, shade: "Shade | None" = None
    ) -> None:
        ground, facing_deg = clock.ground, stand.downhill_deg or 0.0
        self.found, self.grade_pct = found, stand.grade_pct or 0.0
        self.full_mps = ground.air.slope_wind_mps
        tilt = slopes.tilt_deg(self.grade_pct)
        self._light_wm2 = slope_irradiance_wm2(tilt, facing_deg, found.sun)
        of_date, beams = beams_of(ground, clock.dates)
        # mornings and evenings share them
        key = ("beam times", tilt, facing_deg, None if shade is None else stand.at)
        if key not in clock.dates.worked_out:
            clock.dates.worked_out[key] = (
                beam_times_s(beams, tilt, facing_deg)
                if shade is None
                else shaded_beam_times_s(beams, shade)
            )
        first_s, last_s = clock.dates.worked_out[key]
        date = of_date[clock.at]
        later = later_s(_midnight_s(clock.dates.date[clock.at]), clock.dates.date)
        self.first_beam_s = first_s[date] + later
        self.last_beam_s = np.minimum(last_s, beams.set_s)[date] + later

    def at(self, time_s, sit):
        """At instants of sits. [m/s], uphill positive. Args: [epoch s]; the sits; one shape."""
        hour = self.found.index_of(time_s, sit)
        return self._speed_mps(hour, time_s - self.found.hours.start_s[hour])

    def in_hours(self, hour, second):
        """In hours of `Blocks.hours`. [m/s], uphill positive.

        Args: places of the hours; seconds from their start; they broadcast.
        """
        return self._speed_mps(hour, np.asarray(second))

    def ramps(self, hour_s, sit):
        """Which hours the sun's first or last beam makes the wind change in. (sit, hour)

        Args: starts of the hours of some sits [epoch s], that shape; the sits.
        """
        found = np.zeros(hour_s.shape, bool)
        starts = (self.first_beam_s[sit], self.last_beam_s[sit] - slopes.RAMP_S)
        for start_s in (s[:, None] for s in starts):
            found |= (hour_s < start_s + slopes.RAMP_S) & (hour_s + SECONDS_PER_HOUR > start_s)
        return found

    def _speed_mps(self, hour, second):
        found = self.found
        sit = hour // found.length
        return minute_slope_mps(
            downward=slopes.downward_share(
                found.hours.start_s[hour] + second,
                self.first_beam_s[sit],
                self.last_beam_s[sit],
                np.nan,
            ),
            share=np.clip(second / SECONDS_PER_HOUR, 0.0, 1.0),
            light_wm2=self._light_wm2[:, found.sun_at[hour]],
            cloud_frac=found.hours.weather.cloud_frac[hour],
            grade_pct=self.grade_pct,
            full_mps=self.full_mps,
        )


# --- when the sun comes onto a slope and leaves it ---


def beams_of(ground: Property, dates: Dates) -> tuple[Ints, Beams]:
    """Of each date which of the beams it has, shape (day,); and the beams, kept for the dates.

    Args: the property; its dates. Four years stand for many.
    """
    if "beams" not in dates.worked_out:  # mornings and evenings share them
        dates.worked_out["beams"] = _day_beams(ground, dates)
    return dates.worked_out["beams"]


def _day_beams(ground: Property, dates: Dates) -> tuple[Ints, Beams]:
    date_s = _midnight_s(dates.date)
    later = later_s(date_s, dates.date)
    _, first, of_date = np.unique(date_s - later, return_index=True, return_inverse=True)
    rise_s = dates.days.sunrise_s[first] - later[first]
    set_s = dates.days.sunset_s[first] - later[first]
    up_s = set_s - rise_s - 2 * RISEN_S
    time_s = rise_s[:, None] + RISEN_S + up_s[:, None] * BEAM_SHARES
    lon, lat = ground.center
    found = sun_position(lat, lon, ground.elevation_m, time_s.ravel())
    zenith, azimuth = (np.asarray(x).reshape(time_s.shape) for x in found)
    return of_date, Beams(rise_s, set_s, time_s, zenith, azimuth)


def _midnight_s(date) -> Ints:
    return date.astype("datetime64[s]").astype(np.int64)


def beam_times_s(beams: Beams, tilt_deg: float, facing_deg: float) -> tuple[Floats, Floats]:
    """First and last minute of sun on a slope in each date; NaN for never.

    Args: the sun of the dates; the slope's tilt and the way it faces. [deg]
    Returns: epoch seconds, shapes (date,), (date,).
    """
    cos = beam_cos(tilt_deg, facing_deg, beams.zenith_deg, beams.azimuth_deg)
    minute = SECONDS_PER_MINUTE
    first_s = np.ceil(_crossing_s(beams.time_s, cos, beams.rise_s) / minute) * minute
    back = beams.turned()
    last_s = np.floor(-_crossing_s(back.time_s, cos[:, ::-1], back.rise_s) / minute) * minute
    never = first_s > last_s
    return np.where(never, np.nan, first_s), np.where(never, np.nan, last_s)


def shaded_beam_times_s(beams: Beams, shade: "Shade") -> tuple[Floats, Floats]:
    """The same where the land about a slope casts its shade. Shapes (date,), (date,).

    Args: the sun of the dates; the slopes and the land. Between two steps the sun goes
    straight on; it is looked for in every sixteenth part of a step.
    """
    if len(beams.rise_s) > 1:
        return _shaded_beam_times_s(beams, shade)
    day = float(beams.rise_s[0]), float(beams.set_s[0])  # other winds ask for it again
    if day not in shade.of_days:
        shade.of_days[day] = _shaded_beam_times_s(beams, shade)
    return shade.of_days[day]


def _shaded_beam_times_s(beams: Beams, shade: "Shade") -> tuple[Floats, Floats]:
    minute = SECONDS_PER_MINUTE
    first_s = np.ceil(_first_light_s(beams, shade) / minute) * minute
    last_s = np.floor(-_first_light_s(beams.turned(), shade) / minute) * minute
    never = first_s > last_s
    return np.where(never, np.nan, first_s), np.where(never, np.nan, last_s)


def _first_light_s(beams: Beams, shade: "Shade") -> Floats:
    """When the sun first reaches a slope in each date; at its rise where it does at once."""
    from core.land.shade import light_on  # what only heights need is loaded here

    at = _first_lit_step(beams, shade)
    day, before = np.arange(len(at)), np.maximum(at - 1, 0)

    def within(values):
        begin, end = values[day, before], values[day, at]
        return begin[:, None] + (end - begin)[:, None] * PARTS_OF_STEP

    time_s, azimuth = within(beams.time_s), np.unwrap(beams.azimuth_deg, period=360.0)
    light = light_on(shade, within(beams.zenith_deg), within(azimuth))
    lit = (light > 0).argmax(axis=1)
    dark = np.maximum(lit - 1, 0)
    y_dark, y_lit = light[day, dark], light[day, lit]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = np.where(lit > 0, -y_dark / (y_lit - y_dark), 0.0)
    found = time_s[day, dark] + share * (time_s[day, lit] - time_s[day, dark])
    return np.where(at > 0, found, np.where(light[:, 0] > 0, beams.rise_s, np.nan))


def _first_lit_step(beams: Beams, shade: "Shade") -> Ints:
    """The first step of each date at which the sun is on a slope, 0 where it never is.

    Looked for some steps at a time, in the dates that have none yet: most are lit early.
    """
    from core.land.shade import light_on

    at, dark = np.zeros(len(beams.rise_s), np.int64), np.arange(len(beams.rise_s))
    for first in range(0, len(BEAM_SHARES), STEPS_AT_ONCE):
        some = np.s_[dark, first : first + STEPS_AT_ONCE]
        lit = light_on(shade, beams.zenith_deg[some], beams.azimuth_deg[some]) > 0
        found = lit.any(axis=1)
        at[dark[found]] = first + lit[found].argmax(axis=1)
        dark = dark[~found]
    return at


def _crossing_s(time_s: Floats, cos: Floats, rise_s: Floats) -> Floats:
    """When each row of cosines first rises above nothing, at the sun's rise where it does so
    from the first step on; NaN where it never does.

    Between two steps the sun's path is taken for the cubic through the four around them.
    """
    lit = cos > 0
    at = lit.argmax(axis=1)
    day = np.arange(len(cos))
    start = np.clip(at - 2, 0, time_s.shape[1] - 4)
    four = start[:, None] + np.arange(4)
    begin_s = time_s[day, np.maximum(at - 1, 0)]
    t, y = time_s[day[:, None], four] - begin_s[:, None], cos[day[:, None], four]
    low, high = np.zeros(len(cos)), time_s[day, at] - begin_s
    y_low, y_high = cos[day, np.maximum(at - 1, 0)], cos[day, at]
    with np.errstate(invalid="ignore", divide="ignore"):
        for _ in range(CLOSER):  # regula falsi: the root stays between low and high
            guess = low - y_low * (high - low) / (y_high - y_low)
            found = _cubic(guess, t, y)
            under = found <= 0
            low, y_low = np.where(under, guess, low), np.where(under, found, y_low)
            high, y_high = np.where(under, high, guess), np.where(under, y_high, found)
        guess = low - y_low * (high - low) / (y_high - y_low)
    found = np.where(at > 0, begin_s + guess, rise_s)
    return np.where(lit.any(axis=1), found, np.nan)


def _cubic(at, t: Floats, y: Floats) -> Floats:
    """The cubic through four points of each row. Args: where, (row,); the points, (row, 4)."""
    total = np.zeros(len(t))
    for i in range(4):
        share = y[:, i].copy()
        for j in range(4):
            if j != i:
                share *= (at - t[:, j]) / (t[:, i] - t[:, j])
        total += share
    return total
