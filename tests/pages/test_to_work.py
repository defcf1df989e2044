"""A next stand and a next way in go from the Season screen to the list of work."""

import json

import pytest

from core.ground.store import open_property
from core.ground.yearly.work_rules import PlannedJob
from tests.pages.conftest import opened, opened_panel, words

JOBS = (
    PlannedJob("carry Cane walk on to Dry fork", "lane", 9, 220, 60, "dry-fork", "cane-walk"),
    PlannedJob("hang a stand by North trail", "stand", 12, 220, 40, at=(-79.9, 36.1)),
)


def panel():
    from pages.ui.season.to_work import put_on_list
    from tests.pages.test_to_work import JOBS

    put_on_list(JOBS, "jobs")


@pytest.mark.whole_demo
def test_jobs_are_put_on_the_list_and_leave_it_when_the_map_shows_them_done(farm):
    app = opened_panel(panel, ground="farm")
    app.multiselect(key="jobs_chosen").set_value([job.name for job in JOBS]).run()
    app.button(key="jobs_put").click().run()
    assert not app.exception
    assert [job.name for job in open_property(farm).property.work.jobs] == [j.name for j in JOBS]
    said = words(opened("work", ground="farm"))
    assert "Carry Cane walk on to Dry fork" in said and "60 yd to cut, gains 9 of 220 sits." in said
    assert "Hang a stand by North trail" in said

    document = json.loads(farm.read_text(encoding="utf-8"))
    lane = next(f for f in document["features"] if f["id"] == "cane-walk")
    lane["properties"]["stands"].append("dry-fork")
    farm.write_text(json.dumps(document), encoding="utf-8")
    said = words(opened("work", ground="farm"))
    assert "Carry Cane walk" not in said and "Hang a stand by North trail" in said

    rules = opened("work", ground="farm", work_view="Your rules")
    assert "Jobs from Season winds" in words(rules)
    rules.button(key="out_jobs_hang a stand by North trail_None").click().run()
    assert not rules.exception
    assert [job.name for job in open_property(farm).property.work.jobs] == [JOBS[0].name]
    assert "Hang a stand" not in words(opened("work", ground="farm"))
