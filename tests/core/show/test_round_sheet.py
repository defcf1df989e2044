"""The sheet of a round: on one page of letter and A4, however much is to do."""

import dataclasses
import datetime

from core.chores.due import chores
from core.chores.rounds import due_jobs, first_that_fit, round_of
from core.ground.store import demo_path, open_property
from core.show.yearly.round_sheet import round_sheet
from tests import hostile

DAY = datetime.date(2027, 8, 20)


def _named(features, name):
    return tuple(dataclasses.replace(f, name=name.format(i)) for i, f in enumerate(features))


def demo(name=None):
    ground = open_property(demo_path()).property
    if name is None:
        return ground
    groups = ("stands", "lanes", "corridors", "areas", "marks")
    return dataclasses.replace(ground, **{g: _named(getattr(ground, g), name) for g in groups})


def sheet(ground, n_jobs):
    jobs = [c for c in chores(ground, [], DAY) if c.feature]
    places = [f.id for f in (*ground.corridors, *ground.stands)][:15]
    jobs = [c for c in jobs if c.feature in places]
    return round_sheet(round_of(ground, jobs[:n_jobs]), ground, DAY, 0.0)


def test_each_job_has_its_box_and_cautions_stand_once():
    ground = demo()
    jobs = first_that_fit(due_jobs(chores(ground, [], DAY), DAY))
    page = round_sheet(round_of(ground, jobs), ground, DAY, 0.0)
    assert page.count('class="job"') == sum(bool(c.feature) for c in jobs)
    assert page.count('<i class="box">') > page.count('class="job"') > 5
    assert page.count("never alone") == 1 and "round of Fri 20 Aug 2027" in page


def test_names_from_outside_stay_words():
    page = sheet(demo(hostile.NAMES["script"] + " {}"), 6)
    assert "<script" not in page and "&lt;script" in page
