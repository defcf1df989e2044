"""The head of an answer in words: group, times, way in, wind and its age, what goes wrong."""

import dataclasses
import datetime
import re

import numpy as np
import pytest

from core.air.doubt import likely_factor
from core.answer.coming import next_reachable
from core.answer.one_sit import answer_sit, stand_sit
from core.answer.reached import telling_case
from core.ground.layout import Area, Stand
from core.say.cautions import cautions, weather_cautions, weather_warnings
from core.say.daylight import daylight_lines, sunrise_line
from core.say.headline import head_of
from core.say.reason_texts import first_reason, reason_line
from core.say.what_would_change import (
    doubt_text,
    slope_text,
    spare_text,
    turn_text,
    what_would_change,
)
from core.show.card import air_rows
from core.weather.entry import EXAMPLE_WIND, parse_wind
from core.weather.hours import make_hours
from tests.grounds import NOV_10, PIEDMONT, at, bed, corridor, ground, hourly, sit_of, wind

MIDNIGHT = int(datetime.datetime(2026, 11, 10, 5, tzinfo=datetime.UTC).timestamp())
UNKNOWN = np.array([np.nan] * 8 + [8.0] * 16)
ZONE = datetime.timezone(datetime.timedelta(hours=-5))


def said_of(place, weather, **more):
    sit = sit_of(place, weather, **more)
    return head_of(sit, stand_sit(sit, place.stands[0]), MIDNIGHT)


def test_a_clean_morning_is_go_and_all_of_it_is_said():
    trail = corridor(PIEDMONT, (315, 300), (315, 15))
    place = ground(areas=(bed(PIEDMONT, 315, 200),), corridors=(trail,))
    said = said_of(place, wind(315.0))
    assert (said.title, said.heading, said.summary) == ("GO", "Oak", "Clean all morning.")
    clocks = [what for _, what in said.times]
    assert clocks == ["leave the truck", "seated", "legal light\N{NO-BREAK SPACE}*"]
    assert said.way_in.startswith("Lane, 440 yd, 10 minutes. Clean. Crosses no trail.")
    assert said.wind.startswith("NW 8 mph")
    assert said.trouble == "Nothing goes wrong while this wind holds."


def test_a_seat_without_a_trail_or_food_in_range_is_said_to_be_for_watching():
    said = said_of(ground(areas=(bed(PIEDMONT, 315, 200),)), wind(315.0))
    assert said.summary == "Clean all morning. No trail or food within 30 yd: a seat to watch from."


def test_a_bed_downwind_is_stay_out_and_that_is_the_heading():
    said = said_of(ground(areas=(bed(PIEDMONT, 135, 150),)), wind(315.0))
    assert (said.title, said.heading) == ("STAY OUT", "Stay out")
    assert said.summary.startswith("Least bad: Oak. From 6:2")
    assert "Cane" in said.summary


def test_still_air_cant_be_called():
    said = said_of(ground(areas=(bed(PIEDMONT, 135, 150),)), wind(None, mph=0.0))
    assert said.heading == "Can't call"
    assert "no wind" in said.summary
    assert said.spare == ""


@pytest.mark.parametrize(
    ("stand", "blows", "told"),
    [
        (Stand("oak", "Oak", PIEDMONT), wind(None, mph=0.0), "has no slope set"),
        (Stand("oak", "Oak", PIEDMONT, lies="bottom"), wind(315.0, mph=4.0), ""),
        (Stand("oak", "Oak", PIEDMONT), hourly(MIDNIGHT, [315.0] * 24, mph=UNKNOWN), ""),
    ],
)
def test_still_air_is_blamed_only_where_the_air_is_still(stand, blows, told):
    said = said_of(ground(stand=stand, areas=(bed(PIEDMONT, 225, 100),)), blows)
    assert said.heading == "Can't call"
    assert told in said.trouble and bool(told) == ("light air" in said.trouble)


def test_a_way_that_is_missing_is_not_blamed_on_still_air():
    said = said_of(ground(lanes=()), wind(315.0))
    assert said.summary.endswith("No way in drawn.") and "light air" not in said.trouble


def test_a_turn_late_in_the_morning_gives_a_time_to_be_down():
    # 9 am local is 14 UTC: from then on the air goes over the bed
    directions = [135.0] * 9 + [315.0] * 8
    place = ground(areas=(bed(PIEDMONT, 135, 150),))
    sit = sit_of(place, hourly(MIDNIGHT, directions))
    said = head_of(sit, stand_sit(sit, place.stands[0]))
    assert said.summary == "Clean until 9:00 am. Be down by 8:45 am."
    assert said.trouble.startswith("From 9:00 am your air reaches Cane")
    assert turn_text(sit) == "The wind turns from SE to NW at 9:00 am."


@pytest.mark.parametrize(
    ("over_the_bed", "told"),
    [
        ((9, 10), "Clean, but just-off from 9:00 am."),
        ((6, 7), "Clean, but just-off until 8:00 am."),
        ((8,), "Clean, but just-off from 8:00 am until 9:00 am."),
        ((7, 9), "Clean in 3 of 5 hours, just-off in 2."),
        (range(24), "Just-off all morning."),
    ],
)
def test_a_sit_whose_hours_differ_is_not_said_to_be_all_one(over_the_bed, told):
    directions = [315.0 if hour in over_the_bed else 135.0 for hour in range(24)]
    place = ground(areas=(bed(PIEDMONT, 135, 350),))
    said = said_of(place, hourly(MIDNIGHT, directions, cloud=1.0))
    assert said.summary.startswith(told) and said.title == "GO"


def test_an_hour_in_which_the_air_is_much_stronger_is_told_beside_the_first():
    place = ground(areas=(bed(PIEDMONT, 135, 350),))
    falling = np.array([12.0] * 8 + [8.0] * 16)  # two thirds of the wind, more of the air
    sit = sit_of(place, hourly(MIDNIGHT, [315.0] * 24, mph=falling, cloud=1.0))
    own = stand_sit(sit, place.stands[0])
    like = own.hours.equivalent_yd[:, 0]
    assert like.argmin() == 2 and like[2] < 0.8 * like[0]
    tens = [int(x / 10 + 0.5) * 10 for x in like]
    assert first_reason(sit, own) == (
        f"From 6:22 am your air reaches Cane, like {tens[0]} yd, at 8:00 am like {tens[2]} yd "
        "(just-off)."
    )
    rows = air_rows(sit, own)
    assert [row[3] for row in rows] == [f"like {tens[2]} yd, 8:00\N{NO-BREAK SPACE}am"]
    steady = sit_of(place, hourly(MIDNIGHT, [315.0] * 24, cloud=1.0))
    held = stand_sit(steady, place.stands[0])
    assert ", at " not in first_reason(steady, held) and "am" not in air_rows(steady, held)[0][3]


def test_a_reason_says_its_verdict_once():
    near, swirls = ground(areas=(bed(PIEDMONT, 135, 150),)), wind(None, mph=0.0)
    sit = sit_of(near, wind(315.0))
    told = reason_line(sit, stand_sit(sit, near.stands[0]))
    assert told.startswith("Wrong wind. From 6:22 am") and "(wrong wind)" not in told
    sit = sit_of(near, swirls)
    told = reason_line(sit, stand_sit(sit, near.stands[0]))
    assert told == "From 6:22 am: no wind, and your air may reach Cane."
    lost = ground(lanes=())
    sit = sit_of(lost, wind(315.0))
    assert reason_line(sit, stand_sit(sit, lost.stands[0])) == "No way in drawn."
    lost = ground(lanes=(), areas=(bed(PIEDMONT, 135, 150),))
    sit = sit_of(lost, wind(315.0))
    assert reason_line(sit, stand_sit(sit, lost.stands[0])).startswith("Wrong wind. From 6:22 am")
    hidden = ground(stand=Stand("oak", "Oak", PIEDMONT, closed=True))
    sit = sit_of(hidden, wind(315.0))
    assert reason_line(sit, stand_sit(sit, hidden.stands[0])) == "You marked this stand closed."


def test_an_example_wind_is_never_said_to_be_given():
    shown = dataclasses.replace(parse_wind("NW 8"), source=EXAMPLE_WIND)
    assert head_of(*one_of(shown)).wind == "NW 8 mph: an example. Say today's under Wind."
    assert "as you gave it" in head_of(*one_of(parse_wind("NW 8"))).wind


def test_the_days_light_is_told_in_its_order():
    day = sit_of(ground(), wind(315.0)).clock.day
    early, late = day.civil_dawn_s - 60, day.sunset_s + 3600
    told = [line.rsplit(" ", 2)[0] for line in daylight_lines(day, (early, late))[:-1]]
    assert told == [
        "Legal light begins",
        "First light (civil dawn)",
        "Sunrise",
        "Sunset",
        "Last light (civil dusk)",
        "Legal light ends",
    ]
    assert not [line for line in daylight_lines(day, None) if "Legal" in line]


def test_a_wrong_time_zone_shows_in_the_sunrise():
    told = [
        sunrise_line(PIEDMONT, zone, NOV_10) for zone in ("America/New_York", "America/Chicago")
    ]
    clocks = [re.search(r"is (\d+):(\d\d) am", line).groups() for line in told]
    assert int(clocks[0][0]) - int(clocks[1][0]) == 1 and clocks[0][1] == clocks[1][1]
    assert "Chicago" in told[1] and "time zone is wrong" in told[1]


@pytest.mark.parametrize(
    ("works", "told"),
    [
        ([], "No wind works at this speed."),
        (range(360), "Any wind works at this speed."),
        (
            range(300, 331),
            "Works with wind from WNW to NNW. May swing 15° toward W or 15° toward N.",
        ),
        (range(90, 120), "Works with wind from E to ESE."),
        # the points of the two ends alone, SSE to ESE, would read as the few winds between
        (
            [d for d in range(360) if not 124 <= d <= 146],
            "Works with any wind but SE. May swing 168° toward W or 168° toward N.",
        ),
        (
            [d for d in range(360) if not 40 <= d <= 140],
            "Works with wind from SE round by W to NE. May swing 174° toward W or 84° toward N.",
        ),
    ],
)
def test_the_winds_that_work_are_said_with_what_is_to_spare(works, told):
    sit = sit_of(ground(), wind(315.0))
    mask = [degree in works for degree in range(360)]
    assert spare_text(sit, mask) == told


def test_how_steady_the_wind_is_is_said_only_of_a_forecast():
    typed = sit_of(ground(), wind(315.0))
    assert len(what_would_change(typed, answer_sit(typed).best)) == 1
    sit = sit_of(ground(), hourly(MIDNIGHT, [315.0] * 20))
    assert turn_text(sit) == ""
    assert what_would_change(sit, answer_sit(sit).best)[-1] == "Steady from NW: within 0°."


def test_the_age_of_a_forecast_is_said_beside_the_wind():
    hours = hourly(
        MIDNIGHT,
        [315.0] * 20,
        source="A forecast",
        kind="forecast",
        fetched_s=MIDNIGHT - 14 * 3600,
        updated_s=MIDNIGHT - 15 * 3600,
    )
    told = head_of(*one_of(hours), MIDNIGHT).wind
    assert told == "NW 8 mph: A forecast, from 14 h ago; the forecasters' update 15 h ago."
    undated = hourly(MIDNIGHT, [315.0] * 20, source="A forecast", kind="forecast")
    assert "when it was updated is not known" in head_of(*one_of(undated), MIDNIGHT).wind


def one_of(hours):
    sit = sit_of(ground(), hours)
    return sit, stand_sit(sit, sit.scene.ground.stands[0])


@pytest.mark.parametrize(
    ("clock", "date", "sit"),
    [
        ("2026-11-10T04:30", NOV_10, "morning"),
        ("2026-11-10T07:00", NOV_10, "evening"),
        ("2026-11-10T18:00", datetime.date(2026, 11, 11), "morning"),
    ],
)
def test_the_next_sit_that_can_be_reached(clock, date, sit):
    at = datetime.datetime.fromisoformat(clock).replace(tzinfo=ZONE).timestamp()
    assert next_reachable(ground(), at) == (date, sit)


def test_a_source_without_thunder_or_gusts_is_never_fair():
    hours = make_hours(start_s=[0, 3600], speed_mps=3.0, wind_from_deg=0.0, half_width_deg=5.0)
    said = weather_cautions(hours, "forecast")
    assert "Thunder: not in this forecast." in said and "Gusts: not in this forecast." in said


@pytest.mark.parametrize(
    ("column", "value", "word"),
    [
        ("thunder_frac", 0.3, "get down"),
        ("rain_mm", 9.0, "Heavy rain"),
        ("fog", 1.0, "Fog"),
        ("temperature_c", -2.0, "ice"),
    ],
)
def test_weather_that_can_hurt_is_said(column, value, word):
    fair = {"thunder_frac": 0.0, "rain_mm": 0.0, "fog": 0.0, "temperature_c": 9.0, "gust_mps": 4.0}
    base = {"start_s": [0], "speed_mps": 3.0, "wind_from_deg": 0.0, "half_width_deg": 5.0}
    fine, bad = (make_hours(**base, **w) for w in (fair, {**fair, column: value}))
    assert weather_cautions(fine, "forecast") + weather_warnings(fine) == []
    said = weather_cautions(bad, "forecast") + weather_warnings(bad)
    assert len(said) == 1 and word in said[0]


def test_a_seat_over_16_feet_is_said_with_the_usual_cautions():
    high = ground(stand=Stand("oak", "Oak", PIEDMONT, height_ft=20.0))
    sit = sit_of(high, wind(315.0))
    said = cautions(sit, stand_sit(sit, high.stands[0]))
    assert any("20 ft up" in line for line in said)
    assert any("harness" in line for line in said) and "Local rules" in said[-1]


def ring(*places) -> Area:
    """A bed by its corners: bearing and yards of each."""
    corners = tuple(at(PIEDMONT, *place) for place in places)
    return Area(id="cane", name="Cane", kind="bedding", ring=corners)


@pytest.mark.parametrize(
    ("place", "half_width_deg", "within"),
    # even air (class D) spreads 5 degrees to a side and settled air (F) 2.5, at 100 m
    [
        (bed(PIEDMONT, 135, 150, half_yd=2), 5.0, True),
        (bed(PIEDMONT, 137, 150, half_yd=2), 5.0, True),
        (bed(PIEDMONT, 150, 150, half_yd=2), 5.0, False),
        # a vague report reaches there, and may be off to that side as well
        (bed(PIEDMONT, 150, 150, half_yd=2), 22.5, False),
        # a wide bed with the middle in it, though a corner of it is nearer
        (ring((110, 160), (122, 100), (148, 102), (160, 160)), 22.5, True),
        # the middle meets its far end, and the near one gets most, from the side
        (
            ring((146, 70), (156, 470), (135, 490), (135, 492), (157, 475), (148, 70)),
            5.0,
            False,
        ),
    ],
)
def test_the_factors_of_the_field_test_are_told_only_in_the_middle_of_the_air(
    place, half_width_deg, within
):
    prop = ground(stand=Stand("oak", "Oak", PIEDMONT, cover="open"), areas=(place,))
    sit = sit_of(prop, wind(315.0, half_width_deg=half_width_deg))
    told = doubt_text(sit, stand_sit(sit, prop.stands[0]))
    assert ("that may be" in told) == within
    assert ("nobody has tested: it lies to the side" in told) == (not within)


def test_how_far_off_a_distance_may_be_is_said_with_what_was_not_tested():
    place = ground(areas=(bed(PIEDMONT, 135, 150),))
    sit = sit_of(place, wind(315.0))
    own = stand_sit(sit, place.stands[0])
    told = doubt_text(sit, own)
    low, like, high = (
        int(x)
        for x in re.search(r"like (\d+) yd: that may be (\d+) yd to (\d+) yd", told).group(2, 1, 3)
    )
    factors = likely_factor(150, int(own.hours.air.stability[telling_case(own)]))
    assert (low / like, high / like) == pytest.approx(factors, abs=0.1)
    assert "Woods, slopes" in told
    upwind = ground(areas=(bed(PIEDMONT, 315, 150),))
    sit = sit_of(upwind, wind(315.0))
    assert doubt_text(sit, stand_sit(sit, upwind.stands[0])) == ""


def test_slope_air_is_named_where_it_beats_a_light_wind():
    """At dawn 0.7 m/s of slope wind, down to the W, against 3 mph through timber, 0.3 of it at
    most: aslant it beats the wind; right against it nearly cancels, and nobody can call it."""
    steep = Stand("oak", "Oak", PIEDMONT, downhill_deg=270.0, grade_pct=30.0)
    prop = ground(stand=steep)
    light, strong = (sit_of(prop, wind(300.0, mph, cloud=0.0)) for mph in (3.0, 12.0))
    told = slope_text(light, stand_sit(light, steep))
    assert re.fullmatch(
        r"The slope's own air beats the wind \(WNW 3 mph\) at 6:\d\d am: your air goes WSW\.", told
    )
    assert told in head_of(light, stand_sit(light, steep)).slope
    assert slope_text(strong, stand_sit(strong, steep)) == ""
    assert slope_text(light, stand_sit(light, Stand("oak", "Oak", PIEDMONT))) == ""
    against = sit_of(prop, wind(270.0, 3.0, cloud=0.0))
    assert slope_text(against, stand_sit(against, steep)) == ""
