"""What a property file may say of the year's work, and each message with the bad value in it."""

import pytest

from core.errors import BadProperty
from core.ground.yearly.work_rules import Gear, Label, OwnChore, Thicket, WorkRules
from tests import ground_files as g


def loaded(work, *features):
    document = g.document(g.stand("oak", 0, 0), *features)
    return g.load({**document, "property": {**document["property"], "work": work}})


def test_nothing_said_means_the_defaults():
    assert g.load(g.document(g.stand("oak", 0, 0))).work == WorkRules() == loaded({}).work


def test_what_is_said_is_read():
    work = loaded(
        {
            "winter": ["12-15", "03-15"],
            "plots": {"lime": ["10-01", "11-30"]},
            "gear": [{"name": "Harness", "replace_by": "2028-05-01"}],
            "thickets": [{"feature": "cane"}],
            "own": [{"name": "Gate", "each_year": ["06-01", "06-30"]}],
            "done": {"walk-sign": "2026-02-01"},
            "label": {"read_on": "2026-06-01", "wind_to_mph": 8},
        }
    ).work
    assert (work.winter, work.plots) == (("12-15", "03-15"), (("lime", ("10-01", "11-30")),))
    assert (work.gear, work.thickets) == ((Gear("Harness", "2028-05-01"),), (Thicket("cane", 3),))
    assert work.own == (OwnChore("Gate", each_year=("06-01", "06-30")),)
    assert work.done == (("walk-sign", "2026-02-01"),)
    assert work.label == Label("2026-06-01", wind_to_mph=8.0)


def test_every_kind_of_feature_keeps_when_its_chores_were_done():
    done = {"done": {"trim": "2026-08-22"}}
    square = g.square(200, 200, 40)
    found = loaded(
        {},
        g.lane("way", [(0, 400), (0, 10)], ["oak"], **done),
        g.corridor("trail", [(0, 0), (90, 0)], **done),
        g.bed("cane", square, **done),
        g.feature("gate", "sign", "Point", g.lonlat(5, 5), **done),
    )
    features = (found.lanes[0], found.corridors[0], found.areas[0], found.marks[0])
    assert [f.done for f in features] == [(("trim", "2026-08-22"),)] * 4


BAD = (
    ({"winter": ["12-15"]}, 'property.work.winter is ["12-15"], not two days'),
    ({"winter": ["12-15", "02-30"]}, 'property.work.winter.last is "02-30"'),
    ({"leaf_out": "May"}, 'property.work.leaf_out is "May"'),
    ({"spray_by_days": 14}, "has spray_by_days 14, not after spray_after_days 14"),
    ({"camera_days": 0}, "property.work.camera_days is 0"),
    ({"done": ["trim"]}, 'property.work.done is ["trim"], not an object'),
    ({"done": {"trim": "2026-8-1"}}, 'property.work.done.trim is "2026-8-1", not a date'),
    ({"plots": {"plow": ["01-01", "02-01"]}}, '"plow"'),
    ({"plots": ["lime"]}, 'property.work.plots is ["lime"], not an object'),
    ({"own": [{"name": "Gate"}]}, "says not once when it is"),
    ({"own": [{"name": "Gate", "on": "2026-05-01", "every_days": 3}]}, "says not once when it is"),
    ({"jobs": [{"name": "x", "kind": "dig"}]}, 'property.work.jobs.#1.kind is "dig"'),
    ({"jobs": [{"name": "x", "kind": "lane", "at": 3}]}, "at is 3, not a place"),
    ({"label": {"wind_from_mph": 12}}, "has wind_to_mph 10 under wind_from_mph 12"),
    ({"label": {"from_f": 90}}, "has to_f 85 under from_f 90"),
)


@pytest.mark.parametrize("work, told", BAD)
def test_a_bad_value_is_named(work, told):
    with pytest.raises(BadProperty) as fault:
        loaded(work)
    assert told in fault.value.text()
