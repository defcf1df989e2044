"""The sun's path through each of many days, and when it crosses an altitude."""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]

DAY_S = 86400.0
DELTA_T_S = 67.0  # pvlib's default; a few seconds more or less do not show
HALVINGS = 25  # 12 h halved so often is 1.3 ms


class SunPath:
    """Hour angle and declination near each noon.

    SPA is evaluated a day before, at and after mean noon, and a parabola is laid
    through the three, as in A.2 of SPA itself; this costs about 0.01 s.
    """

    def __init__(self, lat_deg: float, lon_deg: float, mean_noon_s: Floats) -> None:
        from pvlib import spa

        self.lat = np.radians(lat_deg)
        self.mean_noon_s = mean_noon_s
        nodes_s = mean_noon_s + DAY_S * np.array([[-1.0], [0.0], [1.0]])  # (node, day)
        node_s, back = np.unique(nodes_s, return_inverse=True)
        sidereal, right_ascension, declination = spa.solar_position(
            node_s, 0, 0, 0, 0, 0, DELTA_T_S, 0, 1, sst=True
        )
        hour_angle = np.mod(sidereal + lon_deg - right_ascension + 180.0, 360.0) - 180.0
        self.hour_angle = _parabola(hour_angle[back].reshape(nodes_s.shape))
        self.declination = _parabola(declination[back].reshape(nodes_s.shape))

    def noon_s(self) -> Floats:
        """When the sun crosses the meridian. Epoch seconds UTC, (day,)."""
        time_s = self.mean_noon_s
        for _ in range(4):  # each step leaves a thousandth of the error
            time_s = time_s - self._hour_angle_deg(time_s) / 360.0 * DAY_S
        return time_s

    def crossing_s(self, noon_s: Floats, reach_s: float, altitude_deg: float) -> Floats:
        """When the sun's centre crosses an altitude between a midnight and noon.

        Args:
            noon_s: from `noon_s()`. Shape (day,).
            reach_s: half a day back (rise) or on (set).
            altitude_deg: geocentric altitude without refraction. [deg]

        Returns: epoch seconds UTC, (day,); NaN on days that lack the crossing.
        """
        low_s, high_s = noon_s + reach_s, noon_s
        wanted = np.sin(np.radians(altitude_deg))
        happens = (self._sin_altitude(low_s) < wanted) & (self._sin_altitude(high_s) >= wanted)
        for _ in range(HALVINGS):
            middle_s = (low_s + high_s) / 2.0
            above = self._sin_altitude(middle_s) >= wanted
            low_s, high_s = np.where(above, low_s, middle_s), np.where(above, middle_s, high_s)
        return np.where(happens, (low_s + high_s) / 2.0, np.nan)

    def _hour_angle_deg(self, time_s: Floats) -> Floats:
        x = (time_s - self.mean_noon_s) / DAY_S
        a, b, c = self.hour_angle
        return a + b * x + c * x * x + 360.0 * x  # the nodes lie whole turns apart

    def _sin_altitude(self, time_s: Floats) -> Floats:
        x = (time_s - self.mean_noon_s) / DAY_S
        a, b, c = self.declination
        declination = np.radians(a + b * x + c * x * x)
        hour_angle = np.radians(self._hour_angle_deg(time_s))
        return np.sin(self.lat) * np.sin(declination) + np.cos(self.lat) * np.cos(
            declination
        ) * np.cos(hour_angle)


def _parabola(values: Floats) -> tuple[Floats, Floats, Floats]:
    """Coefficients through values at x = -1, 0, 1. Shape (3, day) in."""
    before, at, after = values
    return at, (after - before) / 2.0, (after + before) / 2.0 - at
