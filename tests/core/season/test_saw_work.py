"""Winter jobs: what a lane or a move gains is what the season says once it is done."""

import dataclasses

import pytest

from core.ground.layout import Season, Stand
from core.season.review import judge_season
from core.season.saw_work import lost_to_ways, saw_work
from core.sit.scene import Scene
from tests.core.season.test_gaps import made_winds
from tests.grounds import PIEDMONT, at, bed, corridor, ground, lane

WINDS = made_winds([90.0, 180.0, 250.0, 0.0])


def go_count(prop) -> int:
    return int(judge_season(Scene(prop), WINDS).go[:, 0].sum())


@pytest.fixture(scope="module")
def one_way():
    """A stand whose only way in passes beside a bed; another lane ends not far from it."""
    stand = Stand("oak", "Oak", PIEDMONT, cover="open")
    return ground(
        stand=stand,
        seasons=(Season("bow", "11-01", "11-28"),),
        areas=(bed(PIEDMONT, 350, 300, held="always", half_yd=40),),
        lanes=(
            lane(PIEDMONT, (0, 700), (0, 5)),
            lane(PIEDMONT, (180, 700), (180, 100), id_="south", stands=("elm",)),
        ),
        corridors=(corridor(PIEDMONT, (60, 60), (120, 60)),),
    )


def test_sits_lost_to_the_way_in_come_back_with_a_clean_one(one_way):
    answer = judge_season(Scene(one_way), WINDS)
    (name, lost), *_ = lost_to_ways(answer)
    assert name == "oak" and lost > 5
    job = next(j for j in saw_work(answer) if j.kind == "lane")
    assert (job.stand, job.lane, job.cut_yd) == ("oak", "south", 100)
    both = tuple(dataclasses.replace(x, stands=("oak",)) for x in one_way.lanes)
    done = dataclasses.replace(one_way, lanes=both)
    assert job.gains_sits == go_count(done) - go_count(one_way)
    assert job.gains_sits >= lost
    assert job.per_yard == pytest.approx(job.gains_sits / 100)


def test_a_move_gains_what_the_moved_stand_has_more():
    """The stand stands where an east wind carries its air over the bed."""
    prop = ground(
        stand=Stand("oak", "Oak", PIEDMONT, cover="open"),
        seasons=(Season("bow", "11-01", "11-28"),),
        areas=(bed(PIEDMONT, 270, 60, held="always", half_yd=15),),
        lanes=(lane(PIEDMONT, (90, 700), (90, 5)),),
        corridors=(corridor(PIEDMONT, (20, 75), (160, 75)),),
    )
    answer = judge_season(Scene(prop), WINDS)
    jobs = [j for j in saw_work(answer) if j.kind == "move"]
    assert len(jobs) <= 1
    for job in jobs:
        yards, point = job.words.split("move Oak ")[1].split(" (")[0].split(" yd ")
        bearing = {
            "NNE": 22.5,
            "NE": 45,
            "ENE": 67.5,
            "E": 90,
            "ESE": 112.5,
            "SE": 135,
            "SSE": 157.5,
            "N": 0,
            "S": 180,
        }[point]
        moved = dataclasses.replace(prop.stands[0], at=at(PIEDMONT, bearing, float(yards)))
        gain = go_count(dataclasses.replace(prop, stands=(moved,))) - go_count(prop)
        assert job.gains_sits == pytest.approx(gain, abs=4)
    assert jobs


def test_a_ground_that_loses_nothing_has_no_jobs():
    prop = ground(seasons=(Season("bow", "11-01", "11-28"),))
    answer = judge_season(Scene(prop), WINDS)
    assert lost_to_ways(answer) == []
    assert saw_work(answer) == []
