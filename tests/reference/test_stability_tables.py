"""The two tables of stability classes, every cell.

Sources. Night: Pasquill F., Meteorol. Mag. 90:33 (1961), as printed by NOAA Air
Resources Laboratory (ready.noaa.gov/READYpgclass.php): its two night columns, night
from 1 h before sunset to 1 h after sunrise, D in the hour before it and after it.
Day: US EPA, EPA-454/R-99-005 (2000), section 6.4.2, Table 6-7 (the copy drops the
signs of the open ends; "925 and over" and "6 and over" restored). Classes are
words, so there is no tolerance. A lower edge belongs to the faster or sunnier bin:
Table 6-7 prints 2.0-2.5 and the like; that the same holds for Pasquill's is a choice.
"""

import numpy as np
import pytest

from core.air.stability import CLASSES, day_class, night_class, stability_class

# 10 m wind: under 2, 2-3, 3-5, 5-6, 6 and over [m/s]
SPEEDS_MPS = [(0.0, 1.99), (2.0, 2.99), (3.0, 4.99), (5.0, 5.99), (6.0, 25.0)]
# "thin overcast or over 4/8 low cloud", "4/8 cloud and less"
NIGHT = [("E", "F"), ("E", "F"), ("D", "E"), ("D", "D"), ("D", "D")]
# solar radiation: 925 and over, 675-925, 175-675, under 175 [W/m2]
RADIATION_WM2 = [(925.0, 1100.0), (675.0, 924.9), (175.0, 674.9), (0.0, 174.9)]
DAY = [
    ("A", "A", "B", "D"),
    ("A", "B", "C", "D"),
    ("B", "B", "C", "D"),
    ("C", "C", "D", "D"),
    ("C", "D", "D", "D"),
]
HOUR_S = 3600.0
SUNRISE_S, SUNSET_S = 6 * HOUR_S, 20 * HOUR_S


@pytest.mark.parametrize("bin_", range(5))
@pytest.mark.parametrize("column", range(4))
def test_day_cell(bin_, column):
    for speed in SPEEDS_MPS[bin_]:
        for radiation in RADIATION_WM2[column]:
            assert CLASSES[day_class(speed, radiation)] == DAY[bin_][column]


@pytest.mark.parametrize("bin_", range(5))
@pytest.mark.parametrize(("column", "clouds"), [(0, (0.51, 0.75, 1.0)), (1, (0.0, 0.25, 0.5))])
def test_night_cell(bin_, column, clouds):
    for speed in SPEEDS_MPS[bin_]:
        for cloud in clouds:
            assert CLASSES[night_class(speed, cloud)] == NIGHT[bin_][column]


def test_a_missing_cloud_counts_as_a_clear_night():
    assert CLASSES[night_class(2.5, np.nan)] == "F"


def class_at(hour: float, speed_mps=2.5, cloud_frac=0.0, radiation_wm2=700.0) -> str:
    found = stability_class(
        time_s=hour * HOUR_S,
        sunrise_s=SUNRISE_S,
        sunset_s=SUNSET_S,
        speed_mps=speed_mps,
        cloud_frac=cloud_frac,
        radiation_wm2=radiation_wm2,
    )
    return CLASSES[int(found)]


@pytest.mark.parametrize(
    ("hour", "letter"),
    [
        (3.0, "F"),
        (5.99, "F"),
        (6.5, "F"),
        (6.99, "F"),  # night to 1 h after sunrise
        (7.01, "D"),
        (7.99, "D"),  # the hour following night
        (8.01, "B"),
        (12.0, "B"),
        (17.99, "B"),  # 2.5 m/s at 700 W/m2: B, check row 11
        (18.01, "D"),
        (18.99, "D"),  # the hour preceding night
        (19.01, "F"),
        (20.5, "F"),
        (23.5, "F"),  # night from 1 h before sunset
    ],
)
def test_the_clock_of_the_night(hour, letter):
    assert class_at(hour) == letter


def test_published_single_checks():
    assert CLASSES[night_class(4.0, 0.0)] == "E"  # 4 m/s, clear night
    assert CLASSES[day_class(2.5, 700.0)] == "B"


def test_overcast_nights_stay_in_the_first_column():
    assert class_at(3.0, cloud_frac=1.0) == "E"
    assert class_at(3.0, speed_mps=4.0, cloud_frac=1.0) == "D"


def test_whole_days_at_once():
    hours = np.arange(0.5, 24.0)
    found = stability_class(
        time_s=hours * HOUR_S,
        sunrise_s=SUNRISE_S,
        sunset_s=SUNSET_S,
        speed_mps=np.full(24, 2.5),
        cloud_frac=np.zeros(24),
        radiation_wm2=np.full(24, 700.0),
    )
    assert "".join(CLASSES[c] for c in found) == "FFFFFFFDBBBBBBBBBBDFFFFF"
