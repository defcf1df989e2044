"""When to go in: held beds and plots downwind of the place and of the walk, light, light air."""

import datetime
import json
import math
from zoneinfo import ZoneInfo

import ephem
import pytest

from core.__main__ import main
from core.chores.going import find_place, visit_to
from core.chores.visit import judge_visit, windows
from core.errors import BadRequest, NoForecast
from core.ground.layout import Mark, Stand
from core.say.work.visits import (
    JUST_OFF_ONLY,
    NONE_FOUND,
    visit_lines,
    visit_report,
    window_reasons,
)
from core.sit.verdicts import CLEAN, JUST_OFF
from tests import grounds

HERE = grounds.PIEDMONT
ZONE = ZoneInfo("America/New_York")
MIDNIGHT_S = int(datetime.datetime(2026, 11, 10, tzinfo=ZONE).timestamp())
CAMERA = Mark("cam", "Saddle camera", "camera", "Point", (HERE,))


def farm(*beds, **more):
    told = {"stands": (), "lanes": (), "marks": (CAMERA,), "areas": beds, **more}
    return grounds.ground(**told)


def asked(ground, wind, hours=2.0, place="cam", **more):
    weather = grounds.hourly(MIDNIGHT_S, wind, **more)
    visit = visit_to(ground, place)
    return windows(judge_visit(visit, weather, hours, MIDNIGHT_S), hours)


def local(time_s):
    return datetime.datetime.fromtimestamp(time_s, ZONE)


def test_air_that_blows_to_a_held_bed_leaves_no_window_and_the_other_way_the_whole_day():
    ground = farm(grounds.bed(HERE, 0, 150, held="always"))
    assert asked(ground, [180.0] * 24) == []
    (window,) = asked(ground, [0.0] * 24)
    assert (window.verdict, window.ended_by) == (CLEAN, "dark")


def test_windows_lie_between_sunrise_and_sunset():
    (window,) = asked(farm(), [0.0] * 24)
    place = ephem.Observer()
    place.lat, place.lon, place.elevation = "36.1", "-79.9", 200
    place.date = ephem.Date("2026/11/10 05:00")
    sun = [place.next_rising(ephem.Sun()), place.next_setting(ephem.Sun())]
    rise, fall = (t.datetime().replace(tzinfo=datetime.UTC) for t in sun)
    first, last = local(window.start_s), local(window.end_s)
    assert rise <= first < rise + datetime.timedelta(hours=1)
    assert fall - datetime.timedelta(hours=1) < last <= fall


def test_a_place_that_is_not_held_then_makes_no_verdict_and_is_told_beside():
    """110 yd downwind, by day: a night bed and a plot hold nothing, and count for nothing."""
    night = (grounds.bed(HERE, 0, 110, held="night"), grounds.food(HERE, 10, 110))
    (window,) = asked(farm(*night), [180.0] * 24, hours=1)
    assert (window.verdict, window.place) == (CLEAN, "")
    assert window.not_held == ("cane", "clover")
    ground = farm(*night)
    said = window_reasons(window, visit_to(ground, "cam"), grounds.hourly(MIDNIGHT_S, [180.0] * 24))
    assert said[0] == "Clean: your air reaches no held bed or plot."
    assert said[1] == "Cane and Clover lie in it but are not held then."
    assert asked(farm(grounds.bed(HERE, 0, 110)), [180.0] * 24) == []  # held by day
    (never,) = asked(farm(grounds.bed(HERE, 0, 110, held="never")), [180.0] * 24)
    assert (never.verdict, never.not_held) == (CLEAN, ())


def test_a_plot_not_held_changes_nothing_of_what_held_beds_say():
    """At work and on both walks: the same verdicts, distances and names with it and without,
    though it lies nearer than the bed."""
    bed, plot = grounds.bed(HERE, 0, 300, held="always"), grounds.food(HERE, 0, 70)
    way = grounds.lane(HERE, (180, 300), (180, 5), id_="way", stands=("x",))
    weather = grounds.hourly(MIDNIGHT_S, [200.0, 180.0, 160.0] * 8)
    both, alone = (
        judge_visit(visit_to(farm(*places, lanes=(way,)), "cam"), weather, 2.0, MIDNIGHT_S)
        for places in ((bed, plot), (bed,))
    )
    # sunrise 6:48 and 45 minutes, sunset 17:14 less 90: between them the plot holds nothing
    day = [i for i, s in enumerate(both.start_s) if 8 <= local(s).hour <= 13]
    assert len(day) >= 6
    for i in day:
        told = [(s.verdict[i], s.like_yd[i], s.place[i], s.why[i]) for s in (both, alone)]
        assert told[0] == told[1]
        assert both.place[i] == "cane" and both.not_held[i] == ("clover",)
        assert alone.not_held[i] == ()
    assert {int(both.verdict[i]) for i in day} - {CLEAN}


def test_a_plot_counts_from_the_hour_it_is_held():
    """Held from 90 minutes before sunset, 15:44: the hour from 15 to 16 is judged by its
    middle and is the last one free of it; the first is that from 8, 45 minutes after sunrise."""
    (window,) = asked(farm(grounds.food(HERE, 0, 110)), [180.0] * 24)
    assert (local(window.start_s).hour, local(window.end_s).hour) == (8, 16)
    assert (window.verdict, window.ended_by, window.ended_place) == (CLEAN, "air", "clover")


def test_light_air_is_no_window():
    assert asked(farm(grounds.bed(HERE, 0, 150)), [0.0] * 24, mph=1.0) == []


def test_the_walk_counts_too():
    """North wind: clean at the camera; the long way in passes just north of a bed."""
    bed = grounds.bed(HERE, 90, 500, held="always", half_yd=60.0)
    ground = farm(bed)
    wind = [0.0] * 24
    assert asked(ground, wind)[0].verdict == CLEAN
    steps = ((80, 700), (78, 500), (75, 400), (0, 5))
    lane = grounds.lane(HERE, *steps, id_="past", stands=("x",), minutes=90)
    walked = farm(bed, lanes=(lane,))
    visit = visit_to(walked, "cam")
    assert visit.way is not None and visit.way.lane.id == "past"
    starts = judge_visit(visit, grounds.hourly(MIDNIGHT_S, wind), 2.0, MIDNIGHT_S)
    day = [i for i, s in enumerate(starts.start_s) if 9 <= local(s).hour <= 13]
    assert all(starts.verdict[i] > CLEAN and starts.why[i].startswith("way") for i in day)
    assert {starts.place[i] for i in day} == {"cane"}
    # over before noon the wind turns: only who walks in by then is wrong
    turned = grounds.hourly(MIDNIGHT_S, [0.0] * 12 + [90.0] * 12)
    starts = judge_visit(visit, turned, 2.0, MIDNIGHT_S)
    why = {local(s).hour: w for s, w in zip(starts.start_s, starts.why, strict=True)}
    assert (why[11], starts.verdict[11] > CLEAN) == ("way in", True)


def test_all_of_a_trail_is_worked_along():
    """Only its far end lies upwind of the bed."""
    trail = grounds.corridor(HERE, (270, 600), (0, 0))
    bed = grounds.bed(HERE, 180, 150, held="always")
    assert asked(farm(bed, corridors=(trail,)), [0.0] * 24, place="trail") == []
    short = grounds.corridor(HERE, (270, 600), (270, 590))
    assert asked(farm(bed, corridors=(short,)), [0.0] * 24, place="trail")


def test_the_middle_of_a_trail_counts_as_its_ends_do():
    """Only its middle lies upwind of the bed; both ends are 600 yd off to the side."""
    trail = grounds.corridor(HERE, (270, 600), (90, 600))
    bed = grounds.bed(HERE, 180, 150, held="always")
    assert asked(farm(bed, corridors=(trail,)), [0.0] * 24, place="trail") == []
    for bearing in (90, 270):
        end = grounds.corridor(HERE, (bearing, 600), (bearing, 590))
        assert asked(farm(bed, corridors=(end,)), [0.0] * 24, place="trail")


def test_best_first_clean_before_just_off_then_farther_then_earlier():
    ground = farm(grounds.bed(HERE, 0, 300, held="always"))
    found = asked(ground, [180.0] * 24 + [0.0] * 48)
    days = [(w.verdict, local(w.start_s).day) for w in found]
    assert days == [(CLEAN, 11), (CLEAN, 12), (JUST_OFF, 10)]
    visit, weather = visit_to(ground, "cam"), grounds.hourly(MIDNIGHT_S, [180.0] * 72)
    told = visit_report(visit, weather, found)
    assert [w["verdict"] for w in told["windows"]] == ["clean", "clean"]
    assert [w["verdict"] for w in told["just_off"]] == ["just-off"]
    assert "your air reaches Cane" in told["just_off"][0]["reasons"][0]
    lines = visit_lines(visit, weather, found)
    assert lines[2] == f"{JUST_OFF_ONLY}:" and "Just-off" in lines[3]
    assert visit_lines(visit, weather, found[2:])[0] == NONE_FOUND


def test_what_ends_in_better_hours_is_told_so():
    ground = farm(grounds.bed(HERE, 0, 300, held="always"))
    found = asked(ground, [180.0] * 13 + [0.0] * 11)
    assert {w.verdict: w.ended_by for w in found} == {JUST_OFF: "better", CLEAN: "dark"}


def test_a_turn_of_the_wind_ends_a_window_and_is_named():
    ground = farm(grounds.bed(HERE, 0, 150, held="always"))
    (window,) = asked(ground, [0.0] * 13 + [180.0] * 11)  # turns at one o'clock
    assert local(window.end_s).hour == 13
    assert (window.ended_by, window.ended_place) == ("air", "cane")


def test_it_is_judged_as_a_sit_on_the_ground_is():
    """The one chain: a blind at the place is told the same distances, hour by hour."""
    bed = grounds.bed(HERE, 20, 300, held="always")
    wind = [float(d) for d in range(100, 340, 10)]
    blind = Stand("oak", "Oak", HERE, "ground-blind", 0.0, "edge")
    sat = grounds.ground(stands=(blind,), lanes=(), areas=(bed,))
    weather = grounds.hourly(MIDNIGHT_S, wind)
    seat = grounds.judged(sat, weather, "all-day")
    starts = judge_visit(visit_to(farm(bed), "cam"), weather, 1.0, MIDNIGHT_S)
    by_start = dict(zip(starts.start_s.tolist(), starts.like_yd.tolist(), strict=True))
    sit = grounds.sit_of(sat, weather, "all-day")
    rows = sit.clock.row_start_s.tolist()
    told = seat.hours.equivalent_yd[:, 0].tolist()
    compared = [(told[i], by_start[s]) for i, s in enumerate(rows) if s in by_start]
    assert len(compared) >= 8
    assert all(math.isclose(a, b, rel_tol=1e-9) for a, b in compared)


def test_what_cannot_be_asked_is_said():
    ground = farm()
    with pytest.raises(BadRequest, match="'barn'"):
        find_place(ground, "barn")
    with pytest.raises(BadRequest, match="'barn'"):
        visit_to(ground, "cam", "barn")
    weather = grounds.hourly(MIDNIGHT_S, [0.0] * 24)
    with pytest.raises(BadRequest, match="0 hours"):
        judge_visit(visit_to(ground, "cam"), weather, 0.0, MIDNIGHT_S)
    with pytest.raises(NoForecast):
        judge_visit(visit_to(ground, "cam"), weather, 2.0, MIDNIGHT_S + 86400)
    with pytest.raises(NoForecast):
        judge_visit(visit_to(ground, "cam"), grounds.wind(0.0), 2.0, MIDNIGHT_S)
    assert find_place(ground, "saddle camera") == "cam"


def test_the_command(tmp_path, capsys):
    rows = [
        f"2026-11-{10 + h // 24}T{h % 24:02d}:00-05:00,{330 if h < 24 else 150},8"
        for h in range(48)
    ]
    forecast = tmp_path / "wind.csv"
    forecast.write_text("time,wind from (deg),speed (mph)\n" + "\n".join(rows) + "\n")
    words = ["visit", "--property", "demo_property.json", "--forecast", str(forecast)]
    words += ["--at", "gate-sign", "--hours", "2", "--now", "2026-11-10T05:00-05:00"]
    assert main([*words, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert {"start", "end", "reasons"} <= set(told["windows"][0])
    assert told["note"] == "Noise and boots are not judged: only where your air goes."
    assert main([*words, "--by", "plum-walk"]) == 0
    assert "Plum walk" in capsys.readouterr().out


def test_work_along_a_trail_is_judged_at_its_near_end_too():
    """The bed lies beside one end, in whichever order the trail was drawn."""
    ends = ((90, 1), (90, 700))
    for way in (ends, ends[::-1]):
        trail = grounds.corridor(HERE, *way)
        ground = farm(grounds.bed(HERE, 0, 60, held="always"), corridors=(trail,))
        assert [w.verdict for w in asked(ground, [180.0] * 24, place="trail")] != [CLEAN]
    alone = farm(
        grounds.bed(HERE, 0, 60, held="always"),
        corridors=(grounds.corridor(HERE, (90, 690), (90, 700)),),
    )
    assert [w.verdict for w in asked(alone, [180.0] * 24, place="trail")] == [CLEAN]


def test_a_place_is_not_called_held_and_not_held_in_one_breath():
    """A night plot at dusk: the hours at the camera are over before it is held, the walk out
    is not; and what is over two miles off is not named at all."""
    way = grounds.lane(HERE, (180, 700), (180, 5), id_="way", stands=("x",), minutes=60)
    ground = farm(grounds.food(HERE, 0, 350), lanes=(way,))
    weather = grounds.hourly(MIDNIGHT_S, [180.0] * 24)
    visit = visit_to(ground, "cam")
    found = windows(judge_visit(visit, weather, 1.0, MIDNIGHT_S), 1.0)
    said = [window_reasons(w, visit, weather) for w in found]
    for window, reasons in zip(found, said, strict=True):
        named = "Clover" in reasons[0]
        assert not named or window.place == "clover"
        assert ("Clover lies in it but is not held then." in reasons) != named, reasons
    assert any(
        w.by == "way out" and "air on the way out" in r[0] for w, r in zip(found, said, strict=True)
    )
    far = farm(grounds.bed(HERE, 90, 2000, held="always"))
    (window,) = windows(judge_visit(visit_to(far, "cam"), weather, 1.0, MIDNIGHT_S), 1.0)
    told = window_reasons(window, visit_to(far, "cam"), weather)
    assert told[0] == "Clean: your air reaches no held bed or plot."
