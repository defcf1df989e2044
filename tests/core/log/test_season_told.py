"""A season told: what was written, added up by hand here."""

import datetime

import pytest

from core.keep.after import taken_by_plans
from core.keep.entries import AIR, HARVEST, SEEN, SIGN, SIT, entry_of
from core.log.season_told import NO_WIND, marks_of_year, season_told, years_of
from core.say.log.season import harvest_row, hours_text, row_text
from tests.grounds import PIEDMONT, bed, ground

DAY = "2026-11-10"
NOV_10 = datetime.date(2026, 11, 10)


def sit(day=DAY, stand="oak", **more):
    return entry_of(SIT, day, {"stand": stand, "sit": "morning", **more})


def seen(of, n, hour=7, **more):
    at = f"{of.date}T{hour:02d}:10:00-05:00"
    return entry_of(SEEN, of.date, {"count": n, "at": at, **more}, of=of.id)


@pytest.fixture
def entries():
    times = {"from": f"{DAY}T06:00:00-05:00", "to": f"{DAY}T09:30:00-05:00"}
    told = {"hours": [{"start": f"{DAY}T06:00:00-05:00", "wind_from_deg": 310.0}]}
    one = sit(**times, told=told)
    two = sit("2026-11-11", nothing_seen=True)
    three = sit("2026-11-12")
    elm = sit("2026-11-12", "elm")
    west = entry_of(AIR, "2026-11-12", {"from_deg": 275.0}, of=elm.id)
    plan, before = sit(planned=True), sit("2025-11-10")
    return [
        *(one, seen(one, 2), seen(one, 1, 8), two, three, elm, seen(elm, 3), west, plan, before),
        entry_of(HARVEST, DAY, {"sex": "doe", "pounds": 95.0, "report_by": "2026-11-12"}),
    ]


def test_sits_hours_and_deer(entries):
    told = season_told(entries, "2026-09-01", "2026-12-31")
    total = told.total
    assert (total.sits, total.timed, total.hours) == (4, 1, 3.5)
    assert (total.known, total.with_deer, total.deer) == (3, 2, 6)
    assert [(r.name, r.sits, r.deer) for r in told.by_stand] == [("oak", 3, 3), ("elm", 1, 3)]
    assert {r.name: r.sits for r in told.by_wind} == {NO_WIND: 2, "NW": 1, "W": 1}
    assert told.hours == ((7, 5), (8, 1))


def test_in_words_every_share_has_its_count(entries):
    told = season_told(entries, "2026-09-01", "2026-12-31")
    assert row_text(told.total, "In all") == (
        "In all: 4 sits, 4 h in 1 of them; deer on 2 of 3 (67%), 6 in all."
    )
    assert hours_text(told) == "Seen at: 7 am 5 (83%), 8 am 1 (17%), of 6 with a time."
    nothing = season_told([sit()], DAY, DAY).total
    assert row_text(nothing, "Oak") == "Oak: 1 sit; what was seen was not written."


def test_a_deer_in_the_table(entries):
    (deer,) = season_told(entries, "2026-09-01", "2026-12-31").harvest
    row = harvest_row(deer, ground())
    assert (row["deer"], row["lb"], row["reported"]) == ("doe", "95", "by 2026-11-12")


def test_marks_of_a_year():
    prop = ground(areas=(bed(PIEDMONT, 180, 100),))
    one, other = sit(), sit("2025-11-10")
    rub = entry_of(SIGN, DAY, {"what": "rub", "place": [-79.9, 36.1]})
    nowhere = entry_of(SIGN, DAY, {"what": "scrape"})
    entries = [rub, nowhere, seen(one, 2, plot="cane"), seen(one, 3, plot="cane"),
               seen(other, 9, plot="cane")]  # fmt: skip
    assert years_of(entries) == ["2026", "2025"]
    marks = marks_of_year(entries, prop, "2026")
    assert [(m.name, m.kind) for m in marks] == [("5 seen", "other"), ("rub", "sign")]


def test_a_plan_takes_its_seat_from_the_others():
    plans = [
        sit(planned=True, who="Nell"),
        sit(stand="elm", planned=True),
        sit("2026-11-11", "ash", planned=True, who="Nell"),
        sit(stand="fir", who="Nell"),
        entry_of(SIT, DAY, {"stand": "yew", "sit": "evening", "planned": True, "who": "Nell"}),
    ]
    assert taken_by_plans(plans, NOV_10, "morning", "Ben") == {"oak": "Nell"}
    assert taken_by_plans(plans, NOV_10, "morning", None) == {"oak": "Nell"}
    assert taken_by_plans(plans, NOV_10, "morning", "nell") == {}
    assert taken_by_plans(plans, NOV_10, "all-day", "Ben") == {"oak": "Nell", "yew": "Nell"}
