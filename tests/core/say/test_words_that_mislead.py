"""Sentences and marks that once led somebody astray: each as it has to read."""

import dataclasses
import re

import numpy as np
import pytest

from core.answer.change import spare_deg, works_by_degree
from core.answer.one_sit import answer_sit, place_ids, stand_sit
from core.cli.shared import scene_at
from core.ground.layout import Stand
from core.ground.store import demo_path
from core.learn.turn_the_wind import turn_sentence
from core.say.headline import head_of
from core.say.reason_kinds import ShortHour
from core.say.reason_texts import reason_text
from core.say.season.words import other_country, season_lines
from core.say.what_would_change import run_text, winds_text
from core.season.report import season_report
from core.season.review import judge_season
from core.show.card import air_rows, head_html, map_hour_text, told_places
from core.show.compared import spare_short
from core.show.emphasis import emphasis_of
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CLEAN, JUST_OFF, WRONG
from core.weather.entry import BEAUFORT, parse_wind, sign_words
from core.weather.files.typical import typical_year
from tests.grounds import NOV_10, PIEDMONT, bed, corridor, food, ground, sit_of, wind
from tests.years import laid_over

OAK = Stand("oak", "Oak", PIEDMONT)


def mask(*runs):
    works = np.zeros(360, bool)
    for a, b in runs:
        works[np.arange(a, b + 1) % 360] = True
    return works


@pytest.mark.parametrize(
    ("works", "told"),
    [
        (~mask((124, 146)), "any wind but SE"),
        (~mask((90, 146)), "any wind but E to SE"),
        (mask((300, 330)), "wind from WNW to NNW"),
        (mask((200, 420)), "wind from SSW round by NW to ENE"),
        (mask((10, 30), (200, 220)), "wind from N to NNE, SSW to SW"),
        (~mask((80, 100), (260, 280)), "any wind but E or W"),
        # two runs that part inside one point
        (mask((105, 115), (118, 135)), "wind from ESE to SE, but not all of ESE"),
        (mask((40, 80), (95, 114), (120, 140)), "wind from NE to SE, but not all of E and ESE"),
        (mask((90, 95), (350, 358), (365, 375)), "wind from N to NNE, E, but not all of N"),
        (~mask((126, 128), (131, 160)), "any wind but SE to SSE"),
        (mask((0, 359)), "any wind"),
        (mask(), "no wind"),
    ],
)
def test_the_winds_that_work_cannot_be_read_the_other_way_round(works, told):
    assert winds_text(works) == told


def test_a_wind_that_does_not_work_is_not_named_among_those_that_do():
    works = mask((320, 420), (100, 200))  # 315 is NW as 320 is
    assert winds_text(works, 315.0) == "wind from E to SSW, NW to ENE, but not 315°"
    assert winds_text(works, 325.0) == winds_text(works, 250.0) == "wind from E to SSW, NW to ENE"


def test_a_long_run_is_told_by_its_middle():
    assert run_text(150, 110) == "SSE round by NW to ESE"
    assert run_text(300, 60) == "WNW to ENE"


def trail_sit(from_deg: float):
    """A trail 15 yd west of the stand, its far end south-east round it."""
    trail = corridor(PIEDMONT, (0, 140), (270, 15), (180, 140))
    prop = ground(stand=OAK, corridors=(trail,))
    sit = sit_of(prop, wind(from_deg, 8.0))
    return sit, stand_sit(sit, OAK)


@pytest.mark.parametrize("from_deg", [0.0, 90.0, 180.0, 330.0])
def test_a_trail_is_marked_by_what_it_does_to_the_hour(from_deg):
    """Air on the only trail makes an hour wrong, air beside it just-off."""
    sit, own = trail_sit(from_deg)
    (row,) = [r for r in air_rows(sit, own) if r.id == "trail"]
    walked = own.hours.counts[0]
    assert row.verdict == int(own.hours.place_verdict[:, walked].max())
    assert row.verdict == int(own.hours.verdict.max())


def test_a_trail_is_marked_no_worse_than_the_hour_where_another_one_is_free():
    """Air on one of two trails and beside none of the other: the hour's word is the mark's."""
    trails = (
        corridor(PIEDMONT, (0, 140), (270, 15), (180, 140)),
        corridor(PIEDMONT, (330, 160), (300, 15), (350, 12), (20, 160), id_="free"),
    )
    worse = 0
    for from_deg in range(0, 360, 30):
        sit = sit_of(ground(stand=OAK, corridors=trails), wind(float(from_deg), 8.0))
        own = stand_sit(sit, OAK)
        worse += int((own.hours.place_verdict.max(axis=1) > own.hours.verdict).any())
        rows = [row for row in air_rows(sit, own) if row.id in ("trail", "free")]
        assert all(row.verdict <= int(own.hours.verdict.max()) for row in rows), from_deg
    assert worse, "in some wind one trail is in the air and the other is not"


def test_a_trail_with_air_on_it_is_not_called_upwind():
    """Wind from the north-west: the nearest point lies west, upwind; the air goes south-east."""
    trail = corridor(PIEDMONT, (315, 15), (225, 60), (160, 90), (135, 120))
    prop = ground(stand=OAK, corridors=(trail,))
    sit = sit_of(prop, wind(315.0, 8.0), "evening")
    own = stand_sit(sit, OAK)
    flip = sit_of(prop, wind(315.0, 8.0), "morning")
    rows = [r for s, o in ((sit, own), (flip, stand_sit(flip, OAK))) for r in air_rows(s, o)]
    told = [r for r in rows if r.id == "trail" and r.verdict != CLEAN]
    assert told and all(not r.lies.startswith("upwind") for r in told)


def test_clear_of_every_bed_does_not_say_that_most_goes_to_one():
    prop = ground(areas=(bed(PIEDMONT, 135, 1100), food(PIEDMONT, 140, 1200)))
    found = answer_sit(sit_of(prop, wind(315.0, 15.0)))
    told = turn_sentence(found.sit, found.best)
    assert "clear of every bed" in told and "most of it" not in told


@pytest.mark.parametrize("blows", [wind(None, 8.0), wind(None, 0.0)])
def test_no_air_is_called_still_at_8_mph_and_no_slope_is_missed_where_one_is_set(blows):
    steep = Stand("oak", "Oak", PIEDMONT, downhill_deg=90.0, grade_pct=25.0)
    for stand, has_slope in ((OAK, False), (steep, True)):
        prop = ground(stand=stand, areas=(bed(PIEDMONT, 225, 100),))
        said = head_of(sit_of(prop, blows), stand_sit(sit_of(prop, blows), stand))
        words = f"{said.summary} {said.trouble} {said.slope}"
        assert not re.search("[Ss]till air", words)
        assert ("no slope" in words) == (not has_slope)


def test_smoke_that_goes_straight_up_has_no_span_of_speeds():
    assert sign_words(BEAUFORT[0]) == "smoke goes straight up (calm)"
    assert sign_words(BEAUFORT[2]) == "felt on the face (4 to 7 mph)"


def test_the_season_can_t_call_with_its_apostrophe():
    season = judge_season(Scene(ground()), laid_over(typical_year(), [2025]))
    told = "\n".join(season_lines(season_report(season)))
    assert "can't call" in told and "cant call" not in told


def test_a_season_in_another_country_s_wind_says_whose_wind_it_is():
    """Greensboro's year is for 36.10, -79.95; a ground in Iowa lies some 700 miles off."""
    year = typical_year()
    assert other_country(year, PIEDMONT) == ""
    told = other_country(year, (-92.3, 42.1))
    miles = int(re.search(r"(\d+) miles", told)[1].replace(",", ""))
    assert told.startswith("This is not this ground's wind") and 600 < miles < 850


@pytest.mark.parametrize("from_deg", [45.0, 200.0, 315.0])
def test_what_is_to_spare_reads_alike_in_the_head_and_in_the_rows(from_deg):
    prop = ground(stand=OAK, areas=(bed(PIEDMONT, 90, 150),))
    sit = sit_of(prop, wind(from_deg, 8.0))
    own = stand_sit(sit, OAK)
    left, right = spare_deg(works_by_degree(sit, own), from_deg)
    told = spare_short(sit, own)
    if left is None or right is None:
        assert told == "–"
    elif min(left, right) > 45:
        assert told == "over 45°"
    else:
        assert told.startswith(f"{min(left, right):.0f}° to ")


@pytest.fixture(scope="module")
def changing():
    """The demo in a north-west wind: how much air reaches a place changes from hour to hour."""
    sit = prepare_sit(scene_at(str(demo_path())), parse_wind("NW 8"), NOV_10, "morning")
    return answer_sit(sit)


def test_the_map_and_the_table_tell_two_numbers_of_a_place_only_with_their_hours(changing):
    sit, other = changing.sit, 0
    for own in changing.stands:
        drawn = emphasis_of(sit, own)
        clock = drawn.beside_arrow[0].partition(": wind")[0]
        assert map_hour_text(sit, own).startswith(f"The map shows {clock}, the worst hour")
        for row in air_rows(sit, own):
            there, here = drawn.reached.get(row.id), row.told.replace("\N{NO-BREAK SPACE}", " ")
            if there is not None and not re.match(rf"{there}\b", here):
                other += 1
                assert re.search(r"yd, \d+:\d\d [ap]m$", here) and clock not in here, own.stand.id
    assert other >= 3, "some are worst in another hour than the map's"


def test_a_trail_has_one_row_and_a_tap_tells_it_and_of_a_stand_its_word_once(changing):
    answer, sit = changing, changing.sit
    ends = [place_ids(sit, seat) for seat in answer.stands]
    assert any(len(set(names)) < len(names) for names in ends), "some walk a trail from both ends"
    for seat in answer.stands:
        told, rows = told_places(answer, seat), air_rows(sit, seat)
        assert len({row.id for row in rows}) == len(rows)
        assert all(row.told in told[row.id] for row in rows)
        for other in answer.stands:
            line = told[other.stand.id].removeprefix(f"{other.stand.name}: ")
            said = [part.casefold() for part in line.split(". ")]
            assert said[0].startswith(("go", "can't call", "stay out")), line
            assert len(set(said)) == len(said), line


@pytest.mark.parametrize(
    ("from_deg", "verdict", "told"),
    [
        (335.0, CLEAN, "counts."),
        (305.0, JUST_OFF, "But it passes just beside Trail."),
        (250.0, WRONG, "But it lies on Trail before the shot."),
    ],
)
def test_what_is_just_off_though_clear_of_every_bed_says_beside_which_trail(
    from_deg, verdict, told
):
    trail = corridor(PIEDMONT, (70, 160), (70, 14))  # the air of a west-south-west wind
    sit = sit_of(ground(corridors=(trail,), areas=(bed(PIEDMONT, 10, 1100),)), wind(from_deg, 9.0))
    seat = answer_sit(sit).best
    said = turn_sentence(sit, seat)
    assert seat.hours.verdict.max() == verdict
    assert "clear of every bed" in said and said.endswith(told), said


@pytest.mark.parametrize("paper", [False, True])
def test_thunder_stands_in_the_head_of_the_screen_and_of_the_pocket_page(paper):
    told = head_of(*trail_sit(0.0))
    told = dataclasses.replace(told, warnings=("Thunder may come.", "Freezing: ice on steps."))
    drawn = str(head_html(told, "", paper=paper))
    assert '<p class="warn">Thunder may come.</p>' in drawn and "ice on steps" in drawn
    assert drawn.index("Thunder") < drawn.index('class="trouble"')


@pytest.mark.parametrize(("minutes", "told"), [(1, "1 minute from"), (5, "5 minutes from")])
def test_one_minute_is_no_minutes(minutes, told):
    sit = sit_of(ground(areas=(bed(PIEDMONT, 135, 150),)), wind(315.0, 8.0))
    hour = ShortHour(int(sit.clock.start_s), minutes)
    assert f"The air of {told} " in reason_text(sit, hour)
