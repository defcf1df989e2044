"""What is due: windows of the year counted by hand, and a done chore that waits its time."""

import datetime
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.chores.due import COMING, DONE, NOW, OVERDUE, chores
from core.chores.windows import (
    cycle_of,
    half_a_year_on,
    opener,
    saw_rest,
    season_end,
    turn,
    window_here,
)
from core.ground.layout import Mark, Season, Stand
from core.ground.yearly.work_rules import Gear, OwnChore, PlannedJob, Thicket, WorkRules
from core.keep.entries import VISIT, WORK, entry_of
from core.say.work.chores import care_line, cautions, chore_line, title, why
from tests import grounds

D = datetime.date
BOW = Season("bow", "09-13", "01-01")
WORK_DAY = "2026-08-22"


def farm(**more):
    """Oak with its way in, a trail 150 yd off, a bed 30 yd from the trail."""
    center = grounds.PIEDMONT
    told = {
        "corridors": (grounds.corridor(center, (90, 150), (90, 300)),),
        "areas": (grounds.bed(center, 90, 350),),
        "seasons": (BOW,),
        **more,
    }
    return grounds.ground(**told)


def listed(ground, day, entries=()):
    return {c.key: c for c in chores(ground, entries, day)}


def days(chore):
    return chore.opens, chore.due


# --- windows ---


def test_the_29th_of_february_is_the_28th_in_other_years():
    windows = window_here(farm(), ("02-29", "03-10"), ("01-01", "01-02"))
    assert windows(2028) == (D(2028, 2, 29), D(2028, 3, 10))
    assert windows(2027)[0] == windows(2100)[0].replace(year=2027) == D(2027, 2, 28)


def test_a_window_that_wraps_ends_in_the_next_year():
    windows = window_here(farm(), ("12-15", "02-29"), ("01-01", "01-02"))
    assert windows(2027) == (D(2027, 12, 15), D(2028, 2, 29))


@pytest.mark.parametrize(
    "north, south",
    [("01-01", "07-01"), ("03-31", "09-30"), ("07-31", "01-31"), ("08-31", "02-28")],
)
def test_half_a_year_on(north, south):
    assert half_a_year_on(north) == south


def test_the_south_has_its_winter_in_july():
    ground = farm()
    south = replace(ground, center=(ground.center[0], -36.1))
    assert days(listed(ground, D(2026, 1, 5))["cut:trail"]) == (D(2026, 1, 1), D(2026, 3, 31))
    assert days(
        listed(replace(south, areas=(), corridors=farm().corridors), D(2026, 5, 5))["walk-sign"]
    ) == (
        D(2026, 7, 1),
        D(2026, 9, 30),
    )


def test_the_opener_has_the_longest_time_without_a_season_before_it():
    turkey, gun = Season("shotgun", "04-10", "05-20"), Season("gun", "11-15", "01-20")
    assert opener(farm(seasons=(turkey, gun, BOW))) == "09-13"
    assert opener(farm(seasons=())) is None
    assert opener(farm(seasons=(grounds.ALL_YEAR,))) is None


def test_the_season_ends_with_the_last_that_begins_in_it():
    ground = farm(seasons=(BOW, Season("gun", "11-15", "01-20")))
    assert season_end(ground, D(2026, 9, 13)) == D(2027, 1, 20)


def test_ways_in_are_trimmed_before_the_opener():
    # 13 September less 21 days is 23 August; 30 days before that is 24 July
    assert days(listed(farm(), D(2026, 5, 1))["trim:lane"]) == (D(2026, 7, 24), D(2026, 8, 23))


def test_an_opener_in_march_has_a_window_for_every_year():
    """Sixty days before 1 March are 31 December or 1 January, as the year has 365 or 366 days."""
    ground = farm(
        seasons=(Season("bow", "03-01", "05-31"),),
        work=WorkRules(trim_weeks_before=0, trim_days=60),
    )
    opened = [listed(ground, D(y, 6, 1))["trim:lane"].due for y in (2026, 2027, 2028)]
    assert opened == [D(2027, 3, 1), D(2028, 3, 1), D(2029, 3, 1)]


# --- turns ---

STARTS = st.dates(D(2015, 1, 1), D(2040, 12, 31))
WINDOWS = st.tuples(*[st.dates(D(2028, 1, 1), D(2028, 12, 31)).map(lambda d: f"{d:%m-%d}")] * 2)


@given(WINDOWS, STARTS, st.integers(1, 4), st.integers(0, 3000))
def test_a_done_chore_never_returns_before_its_time_and_never_is_lost(window, last, every, later):
    windows = window_here(farm(), window, window)
    today = last + datetime.timedelta(days=later)
    found = turn(windows, last, every, today)
    assert found.opens > last
    assert found.opens >= last + datetime.timedelta(days=365 * (every - 1))
    # it is the window that is open, or the last that was missed, or the next that opens
    assert found.opens <= today + datetime.timedelta(days=366 * (every + 1))
    following = windows(cycle_of(windows, found.opens) + 1)[0]
    assert following > today


@pytest.mark.parametrize(
    "day, year",
    [  # between 31 March and 1 January lie 276 days: 138 of them are late, and then early
        (D(2026, 2, 14), 2026),
        (D(2026, 4, 10), 2026),
        (D(2026, 8, 15), 2026),
        (D(2026, 8, 16), 2027),
        (D(2026, 12, 20), 2027),
    ],
)
def test_work_counts_for_the_nearer_window(day, year):
    assert cycle_of(window_here(farm(), None, ("01-01", "03-31")), day) == year


@pytest.mark.parametrize(
    "day, state, opens",
    [
        (D(2026, 4, 5), DONE, D(2027, 1, 1)),
        (D(2026, 11, 1), DONE, D(2027, 1, 1)),  # 61 days before
        (D(2026, 11, 2), COMING, D(2027, 1, 1)),  # 60
        (D(2027, 1, 1), NOW, D(2027, 1, 1)),
        (D(2027, 3, 31), NOW, D(2027, 1, 1)),
        (D(2027, 4, 1), OVERDUE, D(2027, 1, 1)),
        (D(2027, 12, 31), OVERDUE, D(2027, 1, 1)),
        (D(2028, 1, 1), NOW, D(2028, 1, 1)),
    ],
)
def test_states_of_a_trail_cut_in_2026(day, state, opens):
    ground = farm()
    trail = replace(ground.corridors[0], cut_on="2026-02-14")
    chore = listed(replace(ground, corridors=(trail,)), day)["cut:trail"]
    assert (chore.state, chore.opens) == (state, opens)
    assert chore.missed == (day > D(2027, 3, 31))


def test_every_second_year_if_the_owner_says_so():
    ground = farm(work=WorkRules(cut_every_years=2))
    trail = replace(ground.corridors[0], cut_on="2026-02-14")
    assert (
        listed(replace(ground, corridors=(trail,)), D(2026, 5, 1))["cut:trail"].opens.year == 2028
    )


# --- dates nobody knows, and dates that have not been ---


def test_without_a_date_it_is_asked_and_never_overdue():
    for month in range(1, 13):
        found = listed(farm(), D(2026, month, 15))
        assert all(c.asked and c.state in (NOW, COMING) for c in found.values())
    chore = found["cut:trail"]
    assert "when was it last done?" in why(chore, farm(), D(2026, 12, 15))


def test_a_date_in_the_future_is_asked_and_not_believed():
    ground = farm()
    ahead = replace(ground, corridors=(replace(ground.corridors[0], cut_on="2027-02-14"),))
    chore = listed(ahead, D(2026, 2, 10))["cut:trail"]
    assert (chore.state, chore.asked) == (NOW, True)
    assert "14 Feb 2027, has not been yet" in why(chore, ahead, D(2026, 2, 10))


def test_a_bare_ground_has_its_own_few():
    bare = grounds.ground(stands=(), lanes=(), seasons=())
    assert set(listed(bare, D(2026, 2, 1))) == {"walk-sign", "records"}


# --- the log ---


def done(what, day=WORK_DAY, **more):
    return entry_of(WORK, day, {"what": what, **more})


def test_the_log_counts_as_the_ground_does():
    cut = done("cut", "2026-02-14", feature="trail", minutes=90)
    chore = listed(farm(), D(2026, 5, 1), [cut])["cut:trail"]
    assert (chore.state, chore.last.date, chore.last.minutes) == (DONE, D(2026, 2, 14), 90)
    gone = replace(cut, removed="2026-03-01T00:00:00Z")
    assert listed(farm(), D(2026, 5, 1), [gone])["cut:trail"].asked


def test_trimming_at_a_stand_is_its_shooting_lanes():
    visit = entry_of(VISIT, WORK_DAY, {"what": "trimming", "lane": "lane"})
    found = listed(farm(), D(2026, 9, 1), [done("trim", stand="oak"), visit])
    assert found["shooting-lanes:oak"].last.date == found["trim:lane"].last.date == D(2026, 8, 22)


def test_the_later_of_two_dates_counts():
    ground = farm()
    trail = replace(ground.corridors[0], cut_on="2025-02-14", done=(("cut", "2024-01-01"),))
    found = listed(
        replace(ground, corridors=(trail,)), D(2026, 5, 1), [done("cut", feature="trail")]
    )
    assert found["cut:trail"].last.date == D(2025, 2, 14)  # August 2026 is still to come


# --- standing rules ---


def test_no_saw_beside_a_bed_from_september_to_the_seasons_end():
    ground = farm()
    assert saw_rest(ground, D(2026, 10, 1)) == (D(2026, 9, 1), D(2027, 1, 1))
    assert saw_rest(ground, D(2027, 1, 1))[1] == D(2027, 1, 1)
    assert saw_rest(ground, D(2027, 1, 2))[0] == D(2027, 9, 1)
    late = listed(ground, D(2026, 10, 1), [done("cut", "2025-02-01", feature="trail")])["cut:trail"]
    assert (late.state, late.beside, late.rests[1]) == (OVERDUE, ("cane",), D(2027, 1, 1))
    assert "No saw here until after 1 Jan 2027: it lies by Cane" in why(
        late, ground, D(2026, 10, 1)
    )
    # 250 yd from the bed, and a chore without a saw
    found = listed(ground, D(2026, 10, 1))
    assert found["shooting-lanes:oak"].beside == () and found["check:trail"].rests is None


def test_the_rule_can_be_set_aside_and_needs_a_season():
    assert saw_rest(farm(work=WorkRules(saw_rests=False)), D(2026, 10, 1)) is None
    assert saw_rest(farm(seasons=()), D(2026, 10, 1)) is None


def test_noise_is_said_where_the_rule_stands():
    ground = farm()
    cut = listed(ground, D(2026, 2, 1))["cut:trail"]
    assert any("rain coming" in line for line in cautions(cut, ground))
    quiet = farm(work=WorkRules(noise_with_rain=False))
    assert not any("rain coming" in line for line in cautions(cut, quiet))
    assert any("two tree lengths" in line for line in cautions(cut, quiet))


# --- printed dates, thickets, plots, cameras, own chores ---


def test_gear_by_its_printed_date():
    ground = farm(work=WorkRules(gear=(Gear("Nell's harness", "2026-08-31", "oak"),)))
    key = "gear:oak:Nell's harness"
    states = [
        listed(ground, D(2026, m, d))[key].state for m, d in ((7, 1), (7, 2), (8, 31), (9, 1))
    ]
    assert states == [COMING, NOW, NOW, OVERDUE]  # 2 July is 60 days before
    new = done("new Nell's harness", "2026-08-20", feature="oak")
    after = listed(ground, D(2026, 9, 1), [new])[key]
    assert after.state == DONE and "type its new date" in why(after, ground, D(2026, 9, 1))
    assert title(after, ground) == "Replace Nell's harness (Oak)"


def test_a_thicket_is_cut_back_section_by_section():
    ground = farm(work=WorkRules(thickets=(Thicket("cane", 3),)))
    entries = [done("thicket", f"{y}-02-01", feature="cane") for y in (2023, 2024, 2025, 2026)]
    told = [
        why(listed(ground, D(2026, 5, 1), entries[:n])["thicket:cane"], ground, D(2026, 5, 1))
        for n in (0, 1, 3, 4)
    ]
    assert [t[t.index("Section") :][:15] for t in told] == [
        f"Section {n} of 3." for n in (1, 2, 1, 2)
    ]


def test_plots_have_the_owners_dates_or_none():
    food = grounds.food(grounds.PIEDMONT, 0, 300)
    assert "lime:clover" not in listed(farm(areas=(food,)), D(2026, 2, 1))
    limed = farm(areas=(food,), work=WorkRules(plots=(("lime", ("10-15", "11-30")),)))
    assert days(listed(limed, D(2026, 2, 1))["lime:clover"]) == (D(2026, 10, 15), D(2026, 11, 30))


def test_a_camera_every_thirty_days():
    mark = Mark("cam", "Cam", "camera", "Point", (grounds.PIEDMONT,))
    ground = farm(marks=(mark,))
    checked = [entry_of(VISIT, "2026-07-01", {"what": "camera", "feature": "cam"})]
    chore = listed(ground, D(2026, 7, 2), checked)["camera:cam"]
    assert days(chore) == (D(2026, 7, 24), D(2026, 7, 31))
    assert listed(ground, D(2026, 8, 1), checked)["camera:cam"].state == OVERDUE


def test_own_chores_once_each_year_and_every_so_many_days():
    own = (
        OwnChore("Fix the gate", on="2026-05-15"),
        OwnChore("Walk the fence", each_year=("11-20", "02-10")),
        OwnChore("Fill the feeder", feature="oak", every_days=10),
    )
    ground = farm(work=WorkRules(own=own))
    found = listed(ground, D(2026, 5, 16))
    assert found["own:Fix the gate"].state == OVERDUE
    assert days(found["own:Walk the fence"]) == (D(2026, 11, 20), D(2027, 2, 10))
    entries = [
        done("Fix the gate", "2026-05-16"),
        done("Fill the feeder", "2026-05-16", feature="oak"),
    ]
    found = listed(ground, D(2026, 5, 17), entries)
    assert found["own:Fix the gate"].state == DONE
    assert listed(ground, D(2036, 5, 17), entries)["own:Fix the gate"].state == DONE
    assert found["own:oak:Fill the feeder"].due == D(2026, 5, 26)


def test_what_is_left_out_is_not_listed():
    ground = farm(work=WorkRules(left_out=("spray:trail", "tree")))
    found = listed(ground, D(2026, 5, 1))
    assert "spray:trail" not in found and "tree:oak" not in found and "cut:trail" in found


def test_a_ground_blind_has_neither_tree_nor_straps():
    blind = Stand("oak", "Oak", grounds.PIEDMONT, seat="ground-blind")
    found = listed(farm(stands=(blind,)), D(2026, 5, 1))
    assert {"tree:oak", "straps:oak"} & set(found) == set() and "shooting-lanes:oak" in found


def test_who_hangs_a_stand_is_told_to_tie_in_and_a_lone_sign_is_not_walked_along():
    far = grounds.at(grounds.PIEDMONT, 90, 300)  # from the stand that is there
    hang = PlannedJob("hang a stand by Trail, spot 1", "stand", 5, 200, 0, at=far)
    sign = Mark("post", "Posted sign", "sign", "Point", (grounds.PIEDMONT,))
    ground = replace(farm(), marks=(sign,), work=WorkRules(jobs=(hang,)))
    found = chores(ground, [], D(2027, 2, 10))
    (job,) = (c for c in found if c.kind == "job")
    assert any("tied in from the ground" in said for said in cautions(job, ground))
    titles = {title(c, ground) for c in found}
    assert "See to Posted sign" in titles and not any("Walk along" in t for t in titles)


def test_lines_give_the_cautions_once_and_the_next_time_of_what_is_done():
    ground = farm()
    today = D(2027, 2, 10)
    trail = replace(ground.corridors[0], cut_on="2027-02-01", checked_on="2026-07-01")
    ground = replace(ground, corridors=(trail,))
    found = chores(ground, [], today)
    lines = [chore_line(c, ground, today) for c in found] + care_line(found, ground)
    (cut,) = (line for line in lines if "Cut Trail" in line)
    assert cut.startswith("done: Cut Trail, next 1 Jan to 31 Mar 2028. Last done 1 Feb 2027.")
    assert sum("Ticks: long sleeves" in line for line in lines) == 1
    assert care_line([], ground) == []
