"""The day's round: its order against a search through all orders, what stands at each stop."""

import datetime
import itertools
import json
from dataclasses import replace

import numpy as np
import pytest

from core.__main__ import main
from core.chores.due import NOW, Chore, chores
from core.chores.last_done import LastDone
from core.chores.rounds import (
    MOST_STOPS,
    _best_start,
    due_jobs,
    first_that_fit,
    jobs_named,
    round_of,
    truck_spots,
    walk_minutes,
)
from core.chores.shortest_round import length_of, lengths_from, shortest_round
from core.errors import BadRequest
from core.ground.layout import Mark, Stand
from core.ground.yearly.work_rules import PlannedJob, WorkRules
from core.say.work.rounds import care_of, leg_text, round_lines, stop_said, summed_up, to_bring
from core.units import M_PER_YD
from tests import grounds
from tests.core.chores.test_due import farm

D = datetime.date
DAY = D(2027, 2, 10)
HERE = grounds.PIEDMONT


def job(feature, kind="cut", **more):
    return Chore(kind, feature, DAY, DAY, NOW, **more)


# --- the order ---


def brute_force_m(lengths, stops, start=0) -> float:
    """The shortest of all orders and all ends, one after the other."""
    best = np.inf
    for order in itertools.permutations(range(len(stops))):
        for ends in itertools.product((0, 1), repeat=len(stops)):
            here, walked = start, 0.0
            for i in order:
                walked += lengths[here, stops[i][ends[i]]]
                here = stops[i][1 - ends[i]]
            best = min(best, walked + lengths[here, start])
    return best


@pytest.mark.parametrize("seed", range(12))
def test_the_order_is_as_short_as_any(seed):
    rng = np.random.default_rng(seed)
    n = 1 + seed % 5
    at = rng.uniform(0, 1000, (2 * n + 1, 2))
    lengths = np.hypot(*(at[:, None] - at[None]).T)
    if seed % 2:  # as a net has them, not as the crow flies
        lengths = np.ceil(lengths / 300) * 300
    spots = [(2 * i + 1, 2 * i + 1 if i % 3 == 2 else 2 * i + 2) for i in range(n)]
    order = shortest_round(lengths, spots)
    assert sorted(i for i, _ in order) == list(range(n))
    assert length_of(lengths, spots, 0, order) == pytest.approx(brute_force_m(lengths, spots))


@pytest.mark.parametrize("n", range(5))
def test_from_every_truck_spot_it_is_as_short_as_any(n):
    """Nine spots, more than any farm has gates, each against every order of the stops."""
    rng = np.random.default_rng(n)
    at = rng.uniform(0, 1000, (9 + 2 * n, 2))
    lengths = np.hypot(*(at[:, None] - at[None]).T)
    stops = [(9 + 2 * i, 9 + 2 * i + (i != 1)) for i in range(n)]
    told = lengths_from(lengths, stops, range(9))
    assert told == pytest.approx([brute_force_m(lengths, stops, s) for s in range(9)])
    start, order = _best_start(lengths, stops, 9)
    assert length_of(lengths, stops, start, order) == pytest.approx(min(told))


def test_of_both_ways_round_the_one_that_comes_to_the_more_pressing_first():
    square = np.array([(0, 0), (0, 9), (9, 9), (9, 0)], float)
    lengths = np.hypot(*(square[:, None] - square[None]).T)
    assert [i for i, _ in shortest_round(lengths, [(3, 3), (2, 2), (1, 1)])] == [0, 1, 2]
    assert [i for i, _ in shortest_round(lengths, [(1, 1), (2, 2), (3, 3)])] == [0, 1, 2]


def test_a_dead_end_is_worked_on_the_way_in():
    """Out along a path and back is as long whichever end is begun at."""
    on_a_line = np.abs(np.subtract.outer([0.0, 100, 250], [0.0, 100, 250]))
    assert shortest_round(on_a_line, [(2, 1)]) == [(0, 1)]
    assert shortest_round(on_a_line, [(1, 2)]) == [(0, 0)]


def test_nothing_to_do_is_no_walk():
    assert shortest_round(np.zeros((1, 1)), []) == []


# --- the ground ---


def ladder():
    """A road east from the truck, 400 yd; trails north of it at 100 and 300 yd, 50 yd long."""
    road = grounds.lane(HERE, (90, 0), (90, 400), id_="road", stands=("oak",))
    trails = []
    for yards in (100, 300):
        foot = grounds.at(HERE, 90, yards)
        trails.append(grounds.corridor(foot, (0, 50), (0, 0), id_=f"trail-{yards}"))
    oak = Stand("oak", "Oak", grounds.at(grounds.at(HERE, 90, 400), 180, 30))
    return grounds.ground(stands=(oak,), lanes=(road,), corridors=tuple(trails))


def test_a_round_by_arithmetic():
    """Out 400 yd with both trails there and back, 30 yd straight to Oak, and home."""
    ground = ladder()
    walk = round_of(ground, [job("oak", "straps"), job("trail-300"), job("trail-100")])
    assert walk.start == "road"
    assert walk.length_m / M_PER_YD == pytest.approx(2 * (400 + 50 + 50 + 30), rel=1e-3)
    assert walk.straight_m / M_PER_YD == pytest.approx(60, rel=1e-3)
    assert sorted(s.feature for s in walk.stops) == ["oak", "trail-100", "trail-300"]
    # 1,060 yd at 1.5 mph, 44 yd a minute
    assert walk_minutes(walk.length_m, ground) == 25
    assert "60 yd of it is straight, where no path is drawn." in summed_up(walk, ground)


def test_jobs_of_one_place_are_one_stop_and_those_of_none_are_told():
    ground = ladder()
    jobs = [job("trail-100"), job("", "records"), job("trail-100", "spray")]
    walk = round_of(ground, jobs)
    assert [len(stop.chores) for stop in walk.stops] == [2]
    assert [c.kind for c in walk.nowhere] == ["records"]
    assert "At no place of its own: Jaws and records." in round_lines(walk, ground, DAY)


def test_a_stand_to_be_hung_is_a_stop_at_its_spot():
    planned = PlannedJob("hang a stand", "stand", 9, 220, 0, at=grounds.at(HERE, 90, 200))
    ground = replace(ladder(), work=WorkRules(jobs=(planned,)))
    (listed,) = (c for c in chores(ground, [], DAY) if c.kind == "job")
    walk = round_of(ground, [listed])
    assert walk.length_m / M_PER_YD == pytest.approx(400, rel=1e-3)
    assert stop_said(walk.stops[0], ground, DAY).name == "A new spot"


def test_the_truck_spot_of_the_shortest_walk_or_the_one_named():
    gate = Mark("gate", "Gate", "truck", "Point", (grounds.at(HERE, 90, 350),))
    ground = replace(ladder(), marks=(gate,))
    assert list(truck_spots(ground)) == ["gate", "road"]
    assert round_of(ground, [job("trail-300")]).start == "gate"
    assert round_of(ground, [job("trail-300")], "road").start == "road"
    with pytest.raises(BadRequest, match=r"'barn' is no truck spot.*gate, road"):
        round_of(ground, [job("trail-300")], "barn")
    # a truck spot at the end of the way is that end
    near = replace(gate, points=(grounds.at(HERE, 90, 5),))
    assert list(truck_spots(replace(ground, marks=(near,)))) == ["gate"]


def test_a_gate_is_found_that_lies_behind_four_others():
    """Five gates; the farthest place is nearer to four of them, the walk is shorter from the
    fifth: out along a road of 400 yd to trails at both its ends, which only it lies beside."""
    road = grounds.lane(HERE, (90, 400), (90, 0), id_="road", stands=("oak",))
    ends = [
        grounds.corridor(grounds.at(HERE, 90, yards), (0, 50), (0, 0), id_=f"t{yards}")
        for yards in (0, 400)
    ]
    others = [
        Mark(f"gate-{i}", "Gate", "truck", "Point", (grounds.at(middle, 180, 20 + i),))
        for i, middle in enumerate([grounds.at(HERE, 90, 200)] * 4)
    ]
    ground = grounds.ground(stands=(), lanes=(road,), corridors=tuple(ends), marks=tuple(others))
    walk = round_of(ground, [job("t0"), job("t400")])
    assert walk.start == "road"
    # there and back along the road, and each trail twice
    assert walk.length_m / M_PER_YD == pytest.approx(2 * (400 + 50 + 50), rel=1e-3)


def test_what_can_not_be_walked_is_refused():
    bare = grounds.ground(lanes=())
    with pytest.raises(BadRequest, match="no truck spot and no way in is drawn"):
        round_of(bare, [job("oak", "straps")])
    many = tuple(Stand(f"s{i}", f"S{i}", grounds.at(HERE, 9 * i, 90)) for i in range(20))
    ground = replace(ladder(), stands=many)
    jobs = [job(s.id, kind) for s in many for kind in ("straps", "tree")]
    with pytest.raises(BadRequest, match=r"20 places are too many.*up to 15"):
        round_of(ground, jobs)
    fit = first_that_fit(jobs)
    assert fit == jobs[: 2 * MOST_STOPS]
    same = [job("oak", f"kind{i}") for i in range(41)]
    with pytest.raises(BadRequest, match="41 jobs are too many"):
        round_of(ladder(), same)
    assert len(first_that_fit(same)) == 40


def test_what_is_due_is_chosen_but_no_saw_by_a_bed_in_its_rest():
    ground = farm()
    cut = replace(ground.corridors[0], cut_on="2025-03-01", checked_on="2024-07-01")
    ground = replace(ground, corridors=(cut,))
    fall = D(2026, 9, 20)  # the cut was due in March; the bed lies 30 yd from the trail
    due = {c.key for c in due_jobs(chores(ground, [], fall), fall)}
    assert "cut:trail" not in due and "check:trail" in due
    summer = D(2026, 6, 20)
    assert "cut:trail" in {c.key for c in due_jobs(chores(ground, [], summer), summer)}


def test_jobs_are_named_by_their_key_or_their_place():
    found = chores(farm(), [], DAY)
    assert [c.key for c in jobs_named(found, ["cut:trail"])] == ["cut:trail"]
    assert {c.kind for c in jobs_named(found, ["trail", "cut:trail"])} == {"cut", "spray", "check"}
    with pytest.raises(BadRequest, match=r"'barn' is no job here.*Such as: "):
        jobs_named(found, ["barn"])


# --- words ---


def test_dates_times_things_and_cautions_once():
    ground = ladder()
    last = LastDone(D(2026, 2, 1), 40.0, 1)
    walk = round_of(ground, [job("trail-100", last=last), job("trail-300")])
    (done, open_) = (stop_said(s, ground, DAY).jobs[0] for s in walk.stops)
    assert done[0] == "Cut Trail-100"
    assert "Last done 1 Feb 2026. 40 minutes last time." in done[1]
    assert "The work took 40 min last time; of 1 more it is not written down." in summed_up(
        walk, ground
    )
    lines = "\n".join(round_lines(walk, ground, DAY))
    assert lines.count("never alone") == 1 and lines.count("wedge") == 1
    assert to_bring(walk).count("wedge") == 1
    assert care_of(walk, ground)[-1].startswith("Somebody knows where you are")
    assert lines.count("[ ]") == 2 and open_[0] == "Cut Trail-300"


def test_legs_say_what_no_path_leads_to():
    ground = ladder()
    walk = round_of(ground, [job("oak", "straps")])
    # 430 yd are 393 m, at 0.67 m/s 9.8 minutes
    assert leg_text(walk.stops[0].leg, ground) == (
        "430 yd by Road, 10 min. Of it 30 yd straight: no path is drawn."
    )
    barn = Mark("barn", "Barn", "truck", "Point", (HERE,))
    bare = replace(ground, lanes=(), corridors=(), marks=(barn,))
    said = leg_text(round_of(bare, [job("oak", "straps")]).stops[0].leg, bare)
    assert said == "400 yd, 10 min. Straight: no path is drawn."


def test_the_command(tmp_path, capsys, monkeypatch):
    monkeypatch.setenv("STAND_WIND_HOME", str(tmp_path))
    out = tmp_path / "round.html"
    words = ["round", "--property", "demo_property.json", "--date", "2027-02-10"]
    assert main([*words, "--job", "cut:east-trail", "hay-trail", "--out", str(out), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert {s["feature"] for s in told["stops"]} == {"east-trail", "hay-trail"}
    legs = [s["walk"]["yards"] + s["along_yards"] for s in told["stops"]]
    assert sum(legs) + told["back"]["yards"] == pytest.approx(told["yards"], abs=5)
    assert "Cut East trail" in out.read_text(encoding="utf-8")
    assert main([*words, "--job", "barn"]) == 2
    assert "'barn' is no job here" in capsys.readouterr().err
    assert main([*words, "--out", str(out)]) == 2  # it is there, and --replace was not said
