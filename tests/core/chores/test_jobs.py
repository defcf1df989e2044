"""Jobs of the season review: on the list until the map shows them done."""

from dataclasses import replace

from core.chores.due import chores
from core.chores.jobs import job_of_saw, job_of_spot, shown_done, with_job
from core.chores.typed import without
from core.ground.layout import Stand
from core.ground.yearly.work_rules import WorkRules
from core.say.work.chores import title, why
from core.season.next_stand import NextStand
from core.season.saw_work import Job
from tests import ground_files as g
from tests import grounds
from tests.core.chores.test_due import D, farm

HERE = grounds.PIEDMONT
SPOT = NextStand(grounds.at(HERE, 90, 200), "trail", "lane", 40, 12, 0.1, 220, "in a west wind")


def test_a_spot_is_filled_by_a_stand_within_thirty_yards():
    ground = farm()
    job = job_of_spot(SPOT, ground)
    assert not shown_done(job, ground)
    for yards, done in ((31, False), (29, True)):
        new = Stand("new", "New", grounds.at(SPOT.lonlat, 0, yards))
        filled = replace(ground, stands=(*ground.stands, new), work=WorkRules(jobs=(job,)))
        assert shown_done(job, filled) is done
        listed = [c.name for c in chores(filled, [], D(2027, 2, 10)) if c.kind == "job"]
        assert listed == ([] if done else [job.name])


def test_a_way_in_is_done_when_it_leads_to_the_stand():
    ground = farm()
    other = grounds.lane(HERE, (90, 400), (90, 60), id_="other", stands=("elm",))
    ground = replace(ground, lanes=(*ground.lanes, other))
    job = job_of_saw(Job("lane", "oak", "other", "carry Other on to Oak", 60, 9, 220), ground)
    assert not shown_done(job, ground)
    led = replace(ground, lanes=(ground.lanes[0], replace(other, stands=("elm", "oak"))))
    assert shown_done(job, led)
    assert shown_done(job, replace(ground, stands=()))  # no stand, no work


def test_a_move_is_done_when_the_stand_is_elsewhere():
    ground = farm()
    job = job_of_saw(Job("move", "oak", "lane", "move Oak 20 yd N", 20, 9, 220), ground)
    for yards, done in ((4, False), (6, True)):
        moved = replace(ground.stands[0], at=grounds.at(HERE, 0, yards))
        assert shown_done(job, replace(ground, stands=(moved,))) is done


def test_a_job_is_kept_in_the_file_once_and_listed_with_yards_and_gain():
    ground = farm()
    document = g.document(g.stand("oak", 0, 0))
    for _ in range(2):
        document = with_job(document, job_of_spot(SPOT, ground))
    kept = g.load(document)
    assert [j.name for j in kept.work.jobs] == ["hang a stand by Trail, spot 1"]
    (job,) = (c for c in chores(kept, [], D(2026, 2, 1)) if c.kind == "job")
    assert (title(job, kept), job.state) == ("Hang a stand by Trail, spot 1", "now")
    assert "40 yd to cut, gains 12 of 220 sits." in why(job, kept, D(2026, 2, 1))
    assert g.load(without(document, "jobs", "hang a stand by Trail, spot 1", "")).work.jobs == ()
