"""Spraying windows: hours made by hand, each limit just inside and just outside."""

import dataclasses
import datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from core.chores import spraying as s
from core.ground.layout import Mark
from core.ground.yearly.work_rules import Label
from core.sit.scene import Scene
from core.units import MPS_PER_MPH
from core.weather.files.recognise import read_weather
from tests import grounds

HERE = grounds.PIEDMONT
ZONE = ZoneInfo("America/New_York")
# 21 June at Greensboro: sun from 6:02 to 20:40 by the clock (US Naval Observatory, from memory)
MIDNIGHT_S = int(datetime.datetime(2026, 6, 21, tzinfo=ZONE).timestamp())
LABEL = Label(read_on="2026-06-01")
MILD_C = 20.0  # 68 F
NOON = 12


def farm(**more):
    told = {
        "stands": (),
        "lanes": (),
        "corridors": (grounds.corridor(HERE, (0, 0), (0, 100)),),
        **more,
    }
    return Scene(grounds.ground(**told))


def day(n=36, **changed):
    """Fair hours from midnight on; some of them changed: rain_mm={14: 0.1}."""
    hours = grounds.hourly(
        MIDNIGHT_S, [270.0] * n, mph=6.0, cloud=0.3, temperature_c=MILD_C, rain_mm=0.0
    )
    for name, values in changed.items():
        column = np.broadcast_to(getattr(hours, name), (n,)).astype(float).copy()
        for hour, value in values.items():
            column[hour] = value
        hours = dataclasses.replace(hours, **{name: column})
    return hours


def speeds(mph):
    mps = mph * MPS_PER_MPH
    return {name: {NOON: mps} for name in ("speed_mps", "speed_low_mps", "speed_high_mps")}


def against(scene=None, label=LABEL, **changed):
    """What speaks against the hour from noon on."""
    return s.reasons_against(scene or farm(), "trail", label, day(**changed))[NOON]


def test_a_fair_noon_has_nothing_against_it():
    assert against() == ("", "")


LIMITS = (
    (speeds(3.0), speeds(2.9), s.LIGHT),
    (speeds(10.0), speeds(10.1), s.STRONG),
    ({"gust_mps": {NOON: 15.0 * MPS_PER_MPH}}, {"gust_mps": {NOON: 15.1 * MPS_PER_MPH}}, s.GUST),
    ({"temperature_c": {NOON: 10.0}}, {"temperature_c": {NOON: 9.9}}, s.COLD),  # 50 F
    ({"temperature_c": {NOON: 29.44}}, {"temperature_c": {NOON: 29.5}}, s.HOT),  # 85 F
    ({"rain_mm": {11: 0.09}}, {"rain_mm": {11: 0.1}}, s.WET),
    ({"rain_mm": {19: 0.1}}, {"rain_mm": {18: 0.1}}, s.RAIN),  # six hours after one o'clock
    ({"rain_chance_frac": {18: 0.20}}, {"rain_chance_frac": {18: 0.21}}, s.RAIN),
)


@pytest.mark.parametrize("inside, outside, why", LIMITS)
def test_each_limit_just_inside_and_just_outside(inside, outside, why):
    assert against(**inside) == ("", "")
    assert against(**outside)[0] == why


def test_no_spraying_near_night():
    """Sunrise about 6:02, so from 7:02 on; sunset about 20:40, so till 19:40."""
    found = [why for why, _ in s.reasons_against(farm(), "trail", LABEL, day())]
    assert found[7] == s.INVERSION and found[8] == ""
    assert found[18] == "" and found[19] == s.INVERSION


def test_what_lies_downwind_of_any_point_within_the_distance():
    """Wind from west: air goes east. A plot 90 or 110 yd east of the trail's far end."""
    for yards, met in ((90 + 20, True), (110 + 20, False)):  # its near edge is 20 yd nearer
        plot = grounds.food(grounds.at(HERE, 0, 100), 90, yards)
        found = against(farm(areas=(plot,)))
        assert found == ((s.DOWNWIND, "clover") if met else ("", ""))
    # upwind
    west = grounds.food(HERE, 270, 60)
    assert against(farm(areas=(west,))) == ("", "")


def test_a_quarter_turn_and_the_reports_own_span():
    mark = Mark("well", "Well", "water", "Point", (grounds.at(HERE, 41, 50),))
    spot = farm(marks=(mark,), corridors=(grounds.corridor(HERE, (180, 1), (0, 0)),))
    # seen from the trail's ends the well bears about 40 to 41 degrees: 49 to 50 off east
    assert against(spot, half_width_deg={NOON: 5.0})[0] == s.DOWNWIND
    assert against(spot, half_width_deg={NOON: 3.0}) == ("", "")


def test_notes_that_say_keep_off_count_and_water_that_is_crossed():
    mark = Mark("bees", "Bees", "other", "Point", (grounds.at(HERE, 90, 50),), notes="Keep off!")
    assert against(farm(marks=(mark,))) == (s.DOWNWIND, "bees")
    brook = Mark(
        "brook",
        "Brook",
        "water",
        "LineString",
        (grounds.at(HERE, 270, 30), grounds.at(HERE, 45, 60)),
    )
    assert against(farm(marks=(brook,)))[0] == s.DOWNWIND


def windows(label=LABEL, now_s=MIDNIGHT_S, **changed):
    return s.spray_windows(farm(), "trail", label, day(**changed), now_s)


def clock(window):
    ends = (window.start_s, window.end_s)
    return tuple(datetime.datetime.fromtimestamp(e, ZONE).hour for e in ends)


def test_windows_are_the_longest_with_what_ends_each():
    found = windows(temperature_c={11: 35.0, 16: 35.0})
    assert [clock(w) for w in found] == [(12, 16), (8, 11), (17, 19)]
    assert [w.ended_by for w in found] == [s.HOT, s.HOT, s.INVERSION]


def test_an_hour_alone_is_no_window_and_hours_gone_by_are_none():
    assert [clock(w) for w in windows(temperature_c={9: 35.0})] == [(10, 19)]
    assert [clock(w) for w in windows(now_s=MIDNIGHT_S + 16 * 3600)] == [(16, 19)]


def test_no_window_before_the_label_was_read():
    assert windows(label=Label()) == []


def test_what_is_not_told_is_not_taken_for_fair():
    assert against(temperature_c={NOON: np.nan}) == (s.NOT_KNOWN, "")
    assert against(rain_mm={15: np.nan}) == (s.NOT_KNOWN, "")
    late = s.reasons_against(farm(), "trail", LABEL, day(n=18))
    assert (late[11][0], late[12][0]) == (
        "",
        s.NOT_KNOWN,
    )  # six dry hours after noon's are not told


def test_a_table_with_rain_in_inches_gives_the_hours_that_millimetres_give():
    """0.05 in is 1.27 mm, over the tenth that counts as rain: only dry hours are left."""
    found = []
    for head, drop in (("Precip (in)", "0.05"), ("Precip (mm)", "1.27")):
        rows = [
            f"2026-06-{21 + h // 24}T{h % 24:02d}:00-04:00,270,6,68,{drop if h == 5 else 0}"
            for h in range(36)
        ]
        head = f"time,wind from (deg),speed (mph),temperature (F),{head}\n"
        hours = read_weather((head + "\n".join(rows)).encode() + b"\n", "table.csv")
        scene = farm()
        why = [w for w, _ in s.reasons_against(scene, "trail", LABEL, hours)]
        found.append((why, s.spray_windows(scene, "trail", LABEL, hours, MIDNIGHT_S)))
    assert found[0] == found[1]
    assert found[0][1] and found[0][0][5] == s.INVERSION
    dry = [w for w, _ in s.reasons_against(farm(), "trail", LABEL, day())]
    assert found[0][0][NOON] == dry[NOON] == ""
