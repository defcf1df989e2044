"""The air ledger: sums that are arithmetic here, each stay in the weather kept with it."""

import dataclasses
import datetime

import pytest

from core.ground.layout import Stand
from core.keep.entries import NOTE, SIT, VISIT, entry_of
from core.log.judged_before import judged_before
from core.log.ledger import NO_WIND, NOT_SURE, SEAT, WALK, ledger
from core.log.stays import NO_PLACE, NO_STAND, NO_TIMES, WRONG_TIMES
from core.say.log.ledger import home_line, ledger_dict, ledger_lines, span_text
from core.sit.clock import sit_clock
from core.sit.scene import Scene
from tests.grounds import PIEDMONT, at, bed, food, ground, hourly, lane, wind

DAY = "2026-11-10"
TODAY = datetime.date(2026, 11, 12)


def utc(hour, day=DAY):
    return f"{day}T{int(hour):02d}:{round(hour % 1 * 60):02d}:00+00:00"


def sit(first, last, day=DAY, stand="oak", **more):
    told = {"stand": stand, "sit": "morning", "from": utc(first, day), "to": utc(last, day)}
    return entry_of(SIT, day, {**told, "weather": "w", **more})


def prop(**more):
    """Oak with its bed 100 yards to the south, a way in from the north, nothing else."""
    return ground(areas=(bed(PIEDMONT, 180, 100),), **more)


def found(entries, table=None, property_=None):
    tables = table if isinstance(table, dict) else {"w": table}
    return ledger(entries, property_ or prop(), tables.get)


def total(led, part=None):
    return sum(x.minutes for x in led.lays if part in (None, x.part))


def test_a_north_wind_lays_air_on_the_bed_to_the_south_for_as_long_as_one_sat():
    led = found([sit(13.25, 15.75)], wind(0))
    assert total(led, SEAT) == 150.0
    assert {x.place for x in led.lays} == {"cane"}


def test_the_other_way_round_it_lays_none():
    led = found([sit(13.25, 15.75)], wind(180))
    assert total(led) == 0.0 and led.left_out == ()


def test_only_the_hours_of_that_wind_count():
    start = int(datetime.datetime.fromisoformat(utc(12)).timestamp())
    led = found([sit(12.5, 15.5)], hourly(start, [180, 0, 180, 0]))
    assert total(led, SEAT) == 60.0 + 30.0  # 13 to 14, and 15 to 15:30


def test_a_bed_counts_only_while_deer_hold_it():
    area = bed(PIEDMONT, 180, 100, held="night")
    led = found([sit(12.5, 14.5)], wind(0), ground(areas=(area,)))
    # the night ends 45 minutes after sunrise, some minutes past 12:30 UTC: of the hours only
    # that from 12 to 13 has its middle before it
    assert total(led, SEAT) == 30.0


def test_a_walk_counts_by_the_minute():
    # 435 yards of lane from the north at 1.5 mph, then 5 yards to the stand: all of it lies
    # upwind of the bed, and under 250 yards of it only the last part is near enough
    led = found([sit(13.0, 13.5, way_in="lane", way_out="lane")], wind(0))
    assert 0 < total(led, WALK) < 2 * 435 / (1.5 * 1760 / 60)
    away = found([sit(13.0, 13.5, way_in="lane", way_out="lane")], wind(180))
    assert total(away, WALK) == 0.0


def test_a_sit_without_a_way_takes_the_program_s():
    named = found([sit(13.0, 13.5, way_in="lane", way_out="lane")], wind(0))
    bare = found([sit(13.0, 13.5)], wind(0))
    assert [(x.part, x.minutes) for x in bare.lays] == [(x.part, x.minutes) for x in named.lays]


def test_the_walk_in_has_the_wind_before_and_the_walk_out_the_wind_after():
    start = int(datetime.datetime.fromisoformat(utc(12)).timestamp())
    named = sit(13.0, 14.0, way_in="lane", way_out="lane")
    in_, out, both = (
        total(found([named], hourly(start, wind_)), WALK)
        for wind_ in ([0, 180, 180], [180, 180, 0], [0, 180, 0])
    )
    assert in_ > 0 and out > 0
    assert both == in_ + out


def test_a_visit_to_a_place_on_foot():
    north = at(PIEDMONT, 0, 60)
    visit = entry_of(
        VISIT,
        DAY,
        {"what": "camera", "from": utc(18), "to": utc(18.5), "place": list(north), "weather": "w"},
    )
    led = found([visit], wind(0))
    assert [(x.part, x.minutes) for x in led.lays] == [(SEAT, 30.0)]
    assert found([visit], wind(180)).lays == ()


def test_a_visit_by_a_way_walks_it_both_ways():
    visit = entry_of(
        VISIT,
        DAY,
        {"from": utc(18), "to": utc(18.5), "feature": "cane", "lane": "lane", "weather": "w"},
    )
    led = found([visit], wind(0))
    assert {x.part for x in led.lays} == {SEAT, WALK}


def test_minutes_that_nobody_can_call_are_told_apart():
    led = found([sit(13.0, 15.0)], wind(None, mph=0))
    assert led.lays == ()
    assert [(x.why, x.minutes) for x in led.left_out] == [(NOT_SURE, 120.0)]


def test_weather_kept_the_day_before_does_where_it_reaches():
    start = int(datetime.datetime.fromisoformat(utc(0)).timestamp())
    table = hourly(start, [0] * 48)
    first = sit(13.0, 14.0)
    second = sit(13.0, 14.0, "2026-11-11", weather=None)
    third = sit(13.0, 14.0, "2026-11-12", weather=None)  # past the end of the table
    led = found([first, second, third], table)
    assert total(led, SEAT) == 120.0
    assert [(x.entry, x.why, x.minutes) for x in led.left_out] == [(third.id, NO_WIND, 60.0)]


def test_a_typed_wind_is_that_of_its_own_sit_alone():
    led = found([sit(13.0, 14.0), sit(20.0, 21.0, weather=None)], wind(0))
    assert total(led, SEAT) == 60.0
    assert [x.why for x in led.left_out] == [NO_WIND]


def test_hours_past_the_end_of_the_table_are_without_wind():
    start = int(datetime.datetime.fromisoformat(utc(13)).timestamp())
    led = found([sit(13.0, 15.0)], hourly(start, [0]))
    assert total(led, SEAT) == 60.0
    assert [(x.why, x.minutes) for x in led.left_out] == [(NO_WIND, 60.0)]


def test_what_can_t_be_judged_says_why():
    plan = sit(13.0, 14.0, planned=True)
    gone, turned = sit(13.0, 14.0, stand="gone"), sit(14.0, 13.0)
    nowhere = entry_of(VISIT, DAY, {"from": utc(13), "to": utc(14)})
    untimed = entry_of(VISIT, DAY, {"feature": "oak"})
    led = found([plan, gone, turned, nowhere, untimed, entry_of(NOTE, DAY, {})], wind(0))
    assert led.lays == ()
    assert {x.entry: x.why for x in led.left_out} == {
        gone.id: NO_STAND,
        turned.id: WRONG_TIMES,
        nowhere.id: NO_PLACE,
        untimed.id: NO_TIMES,
    }


def test_a_sit_without_its_times_lasts_from_its_seat_to_the_end():
    bare = entry_of(SIT, DAY, {"stand": "oak", "sit": "morning", "weather": "w"})
    led = found([bare], wind(0))
    clock = sit_clock(prop(), datetime.date.fromisoformat(DAY), "morning")
    ends_s = datetime.datetime.fromisoformat("2026-11-10T10:30:00-05:00").timestamp()
    assert total(led, SEAT) == (ends_s - clock.seated_s) / 60


def test_a_trip_across_zones_and_a_clock_change():
    # the same two hours, written by clocks two zones apart, on the night that clocks go back
    day = "2026-11-01"
    told = {"stand": "oak", "sit": "all-day", "weather": "w"}
    east = {**told, "from": "2026-11-01T00:30:00-04:00", "to": "2026-11-01T01:30:00-05:00"}
    west = {**told, "from": "2026-10-31T22:30:00-06:00", "to": "2026-11-01T00:30:00-06:00"}
    always = ground(areas=(bed(PIEDMONT, 180, 100, held="always"),))
    each = [found([entry_of(SIT, day, v)], wind(0), always) for v in (east, west)]
    assert [total(led, SEAT) for led in each] == [120.0, 120.0]


def test_several_stands_at_once_are_as_each_alone():
    other = Stand("elm", "Elm", at(PIEDMONT, 180, 300))
    both = prop(stands=(Stand("oak", "Oak", PIEDMONT), other))
    entries = [sit(13.0, 14.5), sit(13.0, 14.0, stand="elm"), sit(15.0, 16.0)]
    together = found(entries, wind(20), both)
    alone = [x for e in entries for x in found([e], wind(20), both).lays]
    assert sorted(together.lays, key=str) == sorted(alone, key=str)


def test_what_was_judged_before_is_found_again_until_anything_it_follows_from_changes(tmp_path):
    entries, tables = [sit(13.0, 15.0), sit(13.0, 14.0, "2026-10-01")], {"w": wind(0), "v": wind(0)}
    asked = []

    def weather(key):
        asked.append(key)
        return tables.get(key)

    def again(entries, property_):
        asked.clear()
        before = judged_before(property_, None, tmp_path)
        return ledger(entries, property_, weather, before=before), len(asked)

    first, n = again(entries, prop())
    assert n and first == found(entries, wind(0))
    assert again(entries, prop()) == (first, 0)
    longer = dataclasses.replace(entries[0], values={**entries[0].values, "to": utc(15.5)})
    told, n = again([longer, entries[1]], prop())
    assert n and total(told, SEAT) == total(first, SEAT) + 30
    other = dataclasses.replace(entries[0], values={**entries[0].values, "weather": "v"})
    assert again([other, entries[1]], prop())[1]
    moved = dataclasses.replace(prop(), areas=(bed(PIEDMONT, 0, 100),))
    told, n = again(entries, moved)
    assert n and total(told, SEAT) == 0
    for file in (tmp_path / "cache").iterdir():
        file.write_text('{"x": [1]}', encoding="utf-8")
    assert again(entries, prop()) == (first, len(asked)) and asked


# --- words ---


def told():
    entries = [sit(13.0, 15.0), sit(13.0, 14.0, "2026-10-01")]
    led = found(entries, wind(0))
    return led, {e.id: e for e in entries}


def test_the_report_counts_hours_by_entry_and_by_day():
    led, entries = told()
    (place,) = ledger_dict(led, prop(), TODAY, 14)["places"]
    first = next(iter(entries))
    walk = sum(x.minutes for x in led.lays if x.entry == first and x.part == WALK)
    hours = round(2.0 + walk / 60, 3)
    assert place["from"] == [{"entry": first, "hours": hours}]
    assert (place["id"], place["kind"], place["hours"]) == ("cane", "bedding", hours)
    assert place["by_day"] == [{"date": DAY, "hours": hours}]
    assert len(ledger_dict(led, prop(), TODAY, None)["places"][0]["from"]) == 2


def test_the_line_for_the_home_screen():
    led, entries = told()
    said = home_line(led, entries, prop(), TODAY)
    assert said.startswith("Cane: 2 h") and said.endswith("most from sitting at Oak.")
    assert home_line(led, entries, prop(), TODAY + datetime.timedelta(days=30)) == ""
    little = found([sit(13.0, 13.5)], wind(0))
    assert home_line(little, {}, prop(), TODAY) == ""


def test_lines_say_what_was_not_judged():
    calm = found([sit(13.0, 15.0)], wind(None, mph=0))
    first, second = ledger_lines(calm, {}, prop(), TODAY, 14)
    assert "no air of yours" in first
    assert second == "Not judged: 1 entry, 2 h: the air had no one direction."


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, "0 min"), (59.6, "1 h"), (220, "3 h 40"), (65, "1 h 05")]
)
def test_spans(minutes, said):
    assert span_text(minutes) == said


def test_food_is_a_place_too():
    plot = ground(
        areas=(food(PIEDMONT, 180, 100, held="always"),), lanes=(lane(PIEDMONT, (0, 440), (0, 5)),)
    )
    led = found([sit(20.0, 21.0)], wind(0), plot)
    assert ledger_dict(led, plot, TODAY, 14)["places"][0]["kind"] == "food"


def test_the_heights_of_the_ground_count_where_other_places_were_visited(monkeypatch):
    """A visit adds a seat to the ground: the scene that is made for it keeps the heights."""
    made = []

    def scene_with(prop_, heights=None):
        made.append(heights)
        return Scene(prop_)

    monkeypatch.setattr("core.log.ledger.Scene", scene_with)
    scene = Scene(prop())
    tables = {"w": wind(0)}
    led = ledger([sit(13.25, 15.75)], scene.ground, tables.get, scene)
    assert made == [] and total(led, SEAT) == 150.0  # the scene itself serves
    scene.heights = "these"
    visit = entry_of(
        VISIT, DAY, {"place": at(PIEDMONT, 0, 50), "from": utc(13.25), "to": utc(15.75)}
    )
    ledger([visit], scene.ground, tables.get, scene)
    assert made == ["these"]
