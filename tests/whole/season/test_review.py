"""The season against the home page, sit by sit, and against counts made another way."""

import dataclasses
import datetime

import numpy as np
import pytest
from pvlib.solarposition import declination_spencer71

from core.angles import in_ranges
from core.answer.one_sit import stand_sit
from core.errors import NoSun
from core.ground.layout import Closed, Person, Season, Stand
from core.judge.causes import SURE
from core.judge.stand import NO_WALKS, stand_sits
from core.say.season.tables import season_csv, season_dict
from core.say.season.words import season_lines
from core.season.next_stand import next_stands
from core.season.one_stand import BY_OTHER, BY_WAY
from core.season.report import season_report
from core.season.review import judge_season
from core.season.saw_work import saw_work
from core.sit.clock import clocks, sit_clock
from core.sit.dates import season_dates
from core.sit.prepare import prepare_sit
from core.sit.scene import Scene
from core.sit.verdicts import CLEAN, GO, STAY, WRONG
from core.weather.files.typical import typical_year
from core.weather.hours import make_hours
from tests.demo_season import demo_season
from tests.grounds import PIEDMONT, bed, corridor, food, ground, lane
from tests.years import laid_over

NEAR_A_LIMIT = 0.05
CLOSED = (
    Closed(("Sun",), "08:00", "16:30"),
    Closed(("Sat",), "07:15", "07:45"),  # two pieces are left of a morning
    Closed(("Sat", "Tue"), "15:30", "15:50"),
)


@pytest.fixture(scope="module")
def demo():
    return demo_season().scene


def all_year_ground(**more):
    """A stand on a slope, a bed for each wind and hour, trails, and closed hours."""
    stands = (
        Stand("oak", "Oak", PIEDMONT, downhill_deg=140.0, grade_pct=12.0, cover="edge"),
        Stand("fork", "Fork", bed(PIEDMONT, 100, 200).ring[0], lies="bottom", set_up_min=25.0),
    )
    return ground(
        stands=stands,
        seasons=(Season("bow", "09-20", "02-10", closed=CLOSED),),
        areas=(
            bed(PIEDMONT, 60, 220),
            bed(PIEDMONT, 200, 320, id_="laurel", held="night", months=(9, 10, 11)),
            bed(PIEDMONT, 300, 260, id_="pines", with_wind_deg=((270.0, 20.0),)),
            food(PIEDMONT, 160, 240),
        ),
        corridors=(corridor(PIEDMONT, (60, 200), (90, 20), (160, 220)),),
        lanes=(
            lane(PIEDMONT, (0, 440), (0, 5), stands=("oak", "fork")),
            lane(PIEDMONT, (250, 300), (180, 30), (100, 190), id_="back", stands=("fork",)),
        ),
        people=(Person("Ida"),),
        **more,
    )


def near_a_limit(sit, own) -> bool:
    """Whether a distance that decides lies within 5 % of one of the two limits."""
    rules = sit.scene.ground.air
    distances = [own.hours.equivalent_yd.ravel()]
    distances += [w.equivalent_yd for w in (own.way_in, own.way_out) if w is not None]
    distance = np.concatenate(distances)
    limits = (rules.wrong_within_yd, rules.clean_beyond_yd)
    return any((np.abs(distance / limit - 1.0) <= NEAR_A_LIMIT).any() for limit in limits)


def differing(scene, answer, weather, how_many: int):
    """Random sits whose group or verdict is not that of the home page, and how many were."""
    rng, found, compared = np.random.default_rng(11), [], 0
    while compared < how_many:
        review = answer.reviews[rng.integers(2)]
        i = int(rng.integers(len(review.sits)))
        date = review.sits.clock.dates.date[review.sits.clock.at[i]].item()
        sit = prepare_sit(scene, weather, date, review.sits.clock.sit)
        for stand, own in zip(answer.stands, review.by_stand, strict=True):
            home = stand_sit(sit, stand)
            compared += 1
            same = (home.group, home.verdict, home.seated_s) == (
                own.group[i],
                own.verdict[i],
                own.seated_s[i],
            )
            if not same and not near_a_limit(sit, home):
                found.append((stand.id, date, sit.clock.sit, home.causes))
    return found


def test_the_demo_has_the_verdicts_of_the_home_page(demo):
    assert differing(demo, demo_season(), typical_year(), 112) == []


def test_a_ground_with_every_rule_has_the_verdicts_of_the_home_page():
    scene = Scene(all_year_ground())
    years = laid_over(typical_year(), range(2019, 2026))
    answer = judge_season(scene, years)
    assert answer.n_sits == pytest.approx(7 * 2 * 144, abs=4)
    assert differing(scene, answer, years, 60) == []


@pytest.mark.parametrize("told", ["gusts", "no gusts"])
def test_gusts_and_strong_wind_have_the_verdicts_of_the_home_page(told):
    """Two walks of different length to a stand, and wind over the limits now and then."""
    prop = all_year_ground()
    # without gusts: a mean of 34 mph over the limit, and storms, at a seat on the ground
    height_ft = 16.0 if told == "gusts" else 0.0
    oak = dataclasses.replace(prop.stands[0], max_gust_mph=30.0, height_ft=height_ft)
    lanes = (*prop.lanes, lane(PIEDMONT, (0, 1500), (0, 5), id_="long", stands=("fork",)))
    prop = dataclasses.replace(prop, stands=(oak, prop.stands[1]), lanes=lanes, areas=())
    rng, n = np.random.default_rng(5), 24 * 120
    speed = rng.choice([4.0, 6.0, 15.0], n, p=[0.6, 0.33, 0.07])
    gusts = np.where(rng.random(n) < 0.07, 20.0, speed + 2.0)
    if told != "gusts":
        gusts, speed[rng.random(n) < 0.02] = np.nan, 29.0
    years = make_hours(
        start_s=int(np.datetime64("2023-09-15", "s").astype(int)) + 3600 * np.arange(n),
        wind_from_deg=rng.integers(0, 36, n) * 10.0,
        half_width_deg=5.0,
        speed_mps=speed,
        gust_mps=gusts,
        cloud_frac=0.4,
        kind="measured",
    )
    scene = Scene(prop)
    answer = judge_season(scene, years)
    windy = np.concatenate([h.by_stand[0].out for h in answer.reviews]) == BY_OTHER
    assert 20 < windy.sum() < answer.n_sits / 2 + 60
    assert differing(scene, answer, years, 120) == []


def test_clocks_of_many_dates_are_each_date_s_own():
    prop = all_year_ground()
    dates = season_dates(prop, datetime.date(2024, 9, 1), datetime.date(2025, 3, 1))
    assert len(dates) == 144
    for word in ("morning", "evening", "all-day"):
        clock = clocks(prop, dates, word)
        for i, date in enumerate(dates.date.tolist()):
            one = sit_clock(prop, date, word)
            n = len(one.row_start_s)
            assert bool(clock.open[i]) == (one.start_s is not None)
            assert clock.seated_s[i] == one.seated_s
            assert clock.rows.minutes[i].sum() == one.minutes.sum()
            if one.start_s is None:
                continue
            assert (clock.start_s[i], clock.end_s[i]) == (one.start_s, one.end_s)
            assert (clock.rows.start_s[i, :n] == one.row_start_s).all()
            for name in ("minutes", "weight", "prime_first_min", "prime_last_min"):
                assert np.allclose(getattr(clock.rows, name)[i, :n], getattr(one, name)), name


def rows_of_season(review, stand):
    """The rows of a stand in a season, by table, and what each is; (sit, row)."""
    own = stand_sits(review.sits, stand, walks=NO_WALKS)
    by_sit = own.rows.judged.by_sit
    return own.rows.judged.rows, by_sit(own.hours.verdict), by_sit(own.hours.cause)


def test_table_and_formulas_differ_in_under_two_in_a_thousand_pieces(demo):
    differ = total = 0
    indexes = (0, 4, 9, 13)
    for review in demo_season().reviews:
        found = {k: rows_of_season(review, demo.ground.stands[k]) for k in indexes}
        for i in range(0, len(review.sits), 5):
            date = review.sits.clock.dates.date[review.sits.clock.at[i]].item()
            sit = prepare_sit(demo, typical_year(), date, review.sits.clock.sit)
            for index in indexes:
                home = stand_sit(sit, demo.ground.stands[index]).hours.verdict
                rows, verdict, _ = found[index]
                differ += int((verdict[i, rows.inside[i]] != home).sum())
                total += len(home)
    assert total > 1000
    assert differ / total < 0.002


# --- one bed, counted with pandas on the file itself ---


def pandas_year():
    """The typical year as pandas reads it, by the instant its hours start."""
    import pandas as pd
    import pvlib

    path = f"{pvlib.__path__[0]}/data/723170TYA.CSV"
    table = pd.read_csv(path, skiprows=1)
    day = pd.to_datetime(table["Date (MM/DD/YYYY)"], format="%m/%d/%Y")
    day = day.map(lambda d: d.replace(year=2001))
    ends = pd.to_timedelta(table["Time (HH:MM)"].str[:2].astype(int), unit="h")
    start = day + ends - pd.Timedelta(hours=1) + pd.Timedelta(hours=5)
    return pd.DataFrame(
        {"speed": table["Wspd (m/s)"].to_numpy(), "deg": table["Wdir (degrees)"].to_numpy()},
        index=((start - pd.Timestamp(1970, 1, 1)) // pd.Timedelta(seconds=1)).to_numpy(),
    )


def test_one_bed_counted_with_pandas():
    stand = Stand("oak", "Oak", PIEDMONT, seat="ground-blind", height_ft=0.0, cover="open")
    prop = ground(stand=stand, areas=(bed(PIEDMONT, 70, 80, half_yd=12, held="always"),))
    answer = judge_season(Scene(prop), typical_year())
    bearings = np.array([_bearing(PIEDMONT, corner) for corner in prop.areas[0].ring])
    low, high = bearings.min(), bearings.max()
    assert 20 < high - low < 40
    table = pandas_year()
    counted = {"into": 0, "away": 0}
    for review in answer.reviews:
        rows, verdict, _ = rows_of_season(review, stand)
        verdict = verdict[rows.deciding]
        hours = table.loc[rows.start_s[rows.deciding]].assign(verdict=verdict)
        air_to = (hours.deg + 180.0) % 360.0
        directed = hours.speed.between(1.3, 12.0) & (hours.deg > 0)
        into = directed & (air_to >= low) & (air_to <= high)
        away = directed & (hours.speed >= 3.0)
        away &= ~in_ranges(air_to.to_numpy(), ((low - 60.0, high + 60.0),))
        assert (hours.verdict[into] == WRONG).all()
        assert (hours.verdict[away] == CLEAN).all()
        counted["into"] += int(into.sum())
        counted["away"] += int(away.sum())
    assert counted["into"] > 100
    assert counted["away"] > 500


def test_a_wind_of_the_limit_itself_is_called_from_wherever_it_blows():
    limit_mps = ground().air.cant_call_below_mps
    for speed, called in ((limit_mps, True), (limit_mps - 0.01, False)):
        n = 24 * 100
        hours = make_hours(
            start_s=int(np.datetime64("2023-09-15", "s").astype(int)) + 3600 * np.arange(n),
            wind_from_deg=np.arange(n) * 7.0 % 360.0,
            half_width_deg=5.0,
            speed_mps=speed,
            cloud_frac=0.4,
            kind="measured",
        )
        answer = judge_season(Scene(ground()), hours)
        for review in answer.reviews:
            rows, _, cause = rows_of_season(review, ground().stands[0])
            assert rows.inside.sum() > 200
            assert ((cause[rows.inside] == SURE) == called).all()


def _bearing(a, b) -> float:
    from geographiclib.geodesic import Geodesic

    return Geodesic.WGS84.Inverse(a[1], a[0], b[1], b[0])["azi1"] % 360.0


# --- what never adds a go ---


def added(before, after):
    """Sits that became go, without those that a later not-before may have freed."""
    found = 0
    for one, two in zip(before.reviews, after.reviews, strict=True):
        for old, new in zip(one.by_stand, two.by_stand, strict=True):
            more = (new.group == GO) & (old.group != GO)
            freed = (old.out == BY_WAY) & (one.sit != "morning")
            found += int((more & ~freed).sum())
    return found


def gone(before, after) -> int:
    return int((before.go & ~after.go).sum())


@pytest.fixture(scope="module")
def plain_season():
    return judge_season(Scene(all_year_ground()), typical_year())


def test_a_closed_stand_is_never_go_and_nothing_else_changes(plain_season):
    prop = all_year_ground()
    shut = dataclasses.replace(prop.stands[0], closed=True)
    after = judge_season(
        Scene(dataclasses.replace(prop, stands=(shut, *prop.stands[1:]))), typical_year()
    )
    assert not after.go[:, 0].any()
    assert (after.go[:, 1] == plain_season.go[:, 1]).all()
    assert gone(plain_season, after) > 10


@pytest.mark.parametrize(("bearing", "yards"), [(20, 150), (140, 180), (260, 300)])
def test_another_bed_never_adds_a_go(plain_season, bearing, yards):
    prop = all_year_ground()
    more = dataclasses.replace(prop, areas=(*prop.areas, bed(PIEDMONT, bearing, yards, id_="more")))
    after = judge_season(Scene(more), typical_year())
    assert added(plain_season, after) == 0
    assert gone(plain_season, after) > 0


@pytest.mark.parametrize("limit", ["wrong_within_yd", "clean_beyond_yd"])
def test_a_limit_raised_never_adds_a_go(plain_season, limit):
    prop = all_year_ground()
    air = dataclasses.replace(prop.air, **{limit: getattr(prop.air, limit) * 1.4})
    after = judge_season(Scene(dataclasses.replace(prop, air=air)), typical_year())
    assert added(plain_season, after) == 0


def test_a_history_of_one_morning_has_no_evenings():
    scene = Scene(all_year_ground())
    start = int(np.datetime64("2023-11-04T09", "s").astype(int))
    hours = make_hours(
        start_s=start + 3600 * np.arange(8),
        wind_from_deg=40.0,
        half_width_deg=5.0,
        speed_mps=3.0,
        cloud_frac=0.5,
        kind="measured",
    )
    answer = judge_season(scene, hours)
    assert [len(h.sits) for h in answer.reviews] == [1, 0]
    report = season_report(answer, next_stands(answer), saw_work(answer))
    assert report.stands[0].by_sit["evening"].sits == 0
    assert report.stands[0].by_sit["evening"].go is None
    assert season_dict(report)["stands"][0]["evening"]["go"] is None
    assert report.ground.sits == 1 and report.ground.sits_had == ["morning"]
    assert season_lines(report) and season_csv(answer)


def test_a_sit_without_a_minute_left_is_out():
    every = Season("bow", "11-01", "11-30", closed=(Closed(("Mon",), "00:00", "24:00"),))
    answer = judge_season(Scene(ground(seasons=(every,))), typical_year())
    review = answer.reviews[0]
    monday = np.array([d.weekday() == 0 for d in review.sits.clock.dates.date.tolist()])
    assert answer.n_sits == 60
    assert (review.by_stand[0].group[monday] == STAY).all()
    assert (review.by_stand[0].group[~monday] == GO).mean() > 0.5


TROMSO = (18.96, 69.65)


def test_days_without_a_sunrise_are_left_out_of_a_season_and_told():
    far_north = ground(TROMSO, "Europe/Oslo", seasons=(Season("bow", "11-01", "12-31"),))
    answer = judge_season(Scene(far_north), typical_year())
    # the sun's upper edge stays down where its declination is south of 90 - 69.65 + 0.83 degrees
    days = np.arange(np.datetime64("2025-11-01"), np.datetime64("2026-01-01"))
    day_of_year = (days - np.datetime64("2025-01-01")).astype(int) + 1
    south = np.degrees(declination_spencer71(day_of_year)) < -(90 - TROMSO[1] + 0.83)
    assert answer.sunless == pytest.approx(south.sum(), abs=1)
    assert answer.n_sits == 2 * (len(days) - answer.sunless)
    report = season_report(answer)
    told = f"{answer.sunless} days are left out: the sun does not both rise and set then."
    assert told in season_lines(report)
    assert season_dict(report)["property"]["days_without_sun"] == answer.sunless


def test_a_season_without_any_sunrise_is_refused():
    dark = ground(TROMSO, "Europe/Oslo", seasons=(Season("bow", "12-05", "12-31"),))
    with pytest.raises(NoSun, match="on any date of the season"):
        judge_season(Scene(dark), typical_year())
