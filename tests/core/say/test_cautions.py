"""What is said beside an answer, and from where on. Nothing here is a rank."""

import dataclasses

import pytest

from core.answer.one_sit import answer_sit, stand_sit
from core.ground.layout import Stand
from core.say.answer_lines import sit_lines
from core.say.cautions import ALWAYS, cautions, warnings, weather_cautions, weather_warnings
from core.say.headline import head_of
from core.weather.hours import make_hours
from tests.grounds import ALL_YEAR, PIEDMONT, ground, lane, sit_of, wind

FAIR = {"thunder_frac": 0.0, "rain_mm": 0.0, "fog": 0.0, "temperature_c": 9.0, "gust_mps": 4.0}


@pytest.mark.parametrize(
    ("column", "silent", "told"),
    [
        ("thunder_frac", 0.14, 0.15),  # common practice, no source
        ("rain_mm", 7.5, 7.6),  # 0.30 inches in an hour are a weather service's heavy rain
        ("temperature_c", 0.1, 0.0),
        ("fog", 0.0, 1.0),
    ],
)
def test_from_where_on_the_weather_is_told(column, silent, told):
    def said(value):
        columns = {**FAIR, column: value}
        hours = make_hours(
            start_s=[0], speed_mps=3.0, wind_from_deg=0.0, half_width_deg=5.0, **columns
        )
        return weather_cautions(hours, "forecast") + weather_warnings(hours)

    assert said(silent) == []
    assert len(said(told)) == 1


def said_of(stand=None, season=ALL_YEAR, by="foot"):
    way = lane(PIEDMONT, (0, 440), (0, 5), by=by)
    prop = ground(stand=stand, seasons=(season,), lanes=(way,))
    sit = sit_of(prop, wind(45.0, **FAIR))
    return cautions(sit, stand_sit(sit, prop.stands[0]))


def test_the_usual_ones_are_always_there_and_last():
    assert said_of() == list(ALWAYS)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"stand": Stand("oak", "Oak", PIEDMONT, height_ft=17.0)}, "17 ft up"),
        ({"stand": Stand("oak", "Oak", PIEDMONT, seat="box")}, "heater"),
        ({"stand": Stand("oak", "Oak", PIEDMONT, seat="ground-blind")}, "heater"),
        ({"season": dataclasses.replace(ALL_YEAR, orange=True)}, "orange"),
        ({"by": "boat"}, "life jacket"),
    ],
)
def test_what_a_seat_a_season_or_a_way_adds(change, word):
    said = said_of(**change)
    assert word in said[0] and said[1:] == list(ALWAYS)


def test_at_sixteen_feet_nothing_is_added():
    assert said_of(Stand("oak", "Oak", PIEDMONT, height_ft=16.0)) == list(ALWAYS)


def test_thunder_rain_ice_and_gusts_head_the_answer_and_are_not_said_twice():
    bad = {"thunder_frac": 0.4, "rain_mm": 9.0, "fog": 0.0, "temperature_c": -2.0}
    low = Stand("oak", "Oak", PIEDMONT, max_gust_mph=20.0)
    prop = ground(stand=low)
    sit = sit_of(prop, wind(45.0, gust_mps=9.9, **bad))  # 22 mph
    own = stand_sit(sit, low)
    told = head_of(sit, own).warnings
    starts = ("Gusts to 22 mph: over this seat's limit of 20.", "Thunder", "Heavy rain", "Freezing")
    assert len(told) == 4 and all(map(str.startswith, told, starts))
    assert not set(told) & set(cautions(sit, own))
    assert all(line in "\n".join(sit_lines(answer_sit(sit), None, None)) for line in told)
    assert warnings(sit_of(prop, wind(45.0, **FAIR)), own) == []
