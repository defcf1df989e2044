"""Faults in sit ways."""

from tests.mutants.placing import Fault

SCENE = ("tests/core/sit/test_scene.py",)
HELD = ("tests/core/sit/test_many_areas.py",)
ANCHORS = ("tests/core/test_anchors.py",)
BEFORE = ("tests/core/sit/test_before_shot.py",)
WAYS_BACK = ("tests/core/sit/test_ways_back.py",)
READINGS = ("tests/core/sit/test_readings.py",)
REDRAWN = ("tests/whole/test_redrawn_grounds.py",)
WAYS = ("tests/core/sit/test_ways.py",)
TRAILS = ("tests/core/sit/test_trails.py",)

FAULTS = (
    Fault(
        "trails-sought-too-near",
        "core/sit/scene.py::Scene._in_range",
        "x - reach, y - reach, x + reach, y + reach",
        "x - reach, y - reach, x, y",
        SCENE,
    ),
    Fault(
        "night-trails-in-range",
        "core/sit/scene.py::Scene._in_range",
        "if c.brings_shot",
        "if c.use",
        SCENE,
    ),
    Fault(
        "lines-pointed-at-by-their-middle",
        "core/ground/place.py::places_from",
        "shapely.line_interpolate_point(lines, shapely.line_locate_point(lines, point))",
        "shapely.centroid(lines)",
        SCENE,
    ),
    Fault(
        "areas-of-one-kind-mixed-up",
        "core/sit/held.py::Places._spread_out",
        "by_kind[..., self._kind]",
        "by_kind[..., self._kind * 0]",
        HELD,
    ),
    Fault(
        "walk-from-to",
        "core/sit/stand_air.py::air_on_foot",
        "np.mod(hours.weather.wind_from_deg[hour] + 180.0, 360.0)",
        "np.mod(hours.weather.wind_from_deg[hour], 360.0)",
        ANCHORS,
    ),
    Fault(
        "way-out-gives-as-it-were-the-way-in",
        "core/sit/strength.py::ByFormula.on_walk",
        "sure[:, ::-1])[:, ::-1]",
        "sure[:, ::-1])",
        ("tests/core/sit/test_ways.py",),
    ),
    Fault(
        "corridor-ends-swapped",
        "core/sit/before.py::travelled",
        "line_m[::-1] if from_end == FOOD_END else line_m",
        "line_m if from_end == FOOD_END else line_m[::-1]",
        ANCHORS,
    ),
    Fault(
        "range-in-metres",
        "core/sit/before.py::reach_m",
        "return (range_yd + 0.5) * M_PER_YD - TOUCH_M",
        "return (range_yd + 0.5) - TOUCH_M",
        ANCHORS,
    ),
    Fault(
        "owner-s-minutes-ignored",
        "core/sit/scene.py::walk_minutes",
        "if lane.minutes is None:",
        "if lane.minutes is not None or lane_m:",
        ANCHORS,
    ),
    Fault(
        "held-sets-swapped",
        "core/sit/held.py::held_at",
        'if held == "day":',
        'if held == "night":',
        ANCHORS,
    ),
    Fault(
        "months-off-by-one",
        "core/sit/held.py::Places.counts",
        "np.isin(month, months)",
        "np.isin(np.add(month, 1), months)",
        ANCHORS,
    ),
    Fault(
        "worst-way-for-best",
        "core/sit/ways.py::choose",
        "axis=0)[0]",
        "axis=0)[-1]",
        ANCHORS,
    ),
    Fault(
        "neighbours-piece-counts-as-own",
        "core/sit/scene.py::Scene.area_of",
        "return shapely.Polygon(points(mark.points), [points(hole) for hole in mark.holes])",
        "return shapely.Polygon(points(mark.points))",
        ("tests/core/criticism/test_whole_ground.py",),
    ),
    Fault(
        "a-place-reached-again-leads-nowhere",
        "core/sit/before.py::Arrival.leads_to_all_of",
        "return not self.walked & ~other.walked and self.used_m",
        "return self.used_m",
        WAYS_BACK,
    ),
    Fault(
        "a-trail-taken-twice-on-one-way-back",
        "core/sit/before.py::Trails._onward",
        "way.walked | bit)",
        "way.walked)",
        WAYS_BACK,
    ),
    Fault(
        "too-many-ways-and-none-is-followed",
        "core/sit/before.py::Trails._any_ways_back",
        "better = used < least_m[places] - TOUCH_M",
        "better = used < 0.0",
        WAYS_BACK,
    ),
    Fault(
        "joins-cost-no-trail",
        "core/sit/before.py::Trails._reached",
        "used_m + at_m - left_m",
        "used_m",
        BEFORE,
    ),
    Fault(
        "joins-a-yard-off",
        "core/sit/before.py::JOIN_M",
        "JOIN_M = 10.0 * M_PER_YD",
        "JOIN_M = 10.0",
        BEFORE,
    ),
    Fault(
        "last-stretch-for-the-first",
        "core/sit/before.py::passes",
        "if found and start <= found[-1].to_m + TOUCH_M:",
        "if found and start <= found[-1].to_m + 1e6:",
        BEFORE,
    ),
    Fault(
        "places-in-the-order-of-the-file",
        "core/sit/scene.py::_by_name.ordered",
        "return tuple(sorted(features, key=lambda x: (x.name, x.id)))",
        "return tuple(features)",
        REDRAWN,
    ),
    Fault(
        "an-uncalled-way-has-a-distance",
        "core/sit/ways.py::_judge_walks",
        "np.where(unsure, np.nan, distance)",
        "distance",
        READINGS,
    ),
    Fault(
        "two-miles-and-a-half",
        "core/sit/ways.py::LEAST_SHOWN_YD",
        "LEAST_SHOWN_YD, MOST_SHOWN_YD = 10.0, 3520.0",
        "LEAST_SHOWN_YD, MOST_SHOWN_YD = 10.0, 4400.0",
        READINGS,
    ),
    Fault(
        "a-walk-without-its-minutes",
        "core/sit/ways.py::Given.dose",
        "self.sure.sum(axis=1)) * minutes / 60.0",
        "self.sure.sum(axis=1)) / 60.0",
        WAYS,
    ),
    Fault(
        "one-calm-minute-spoils-a-walk",
        "core/sit/ways.py::_judge_walks",
        "unsure = 2 * (~given.sure).sum(axis=1) > way.minutes",
        "unsure = (~given.sure).sum(axis=1) > 0",
        WAYS,
    ),
    Fault(
        "the-way-that-crosses-most",
        "core/sit/ways.py::choose.of_equals",
        "return len(way.crosses),",
        "return -len(way.crosses),",
        WAYS,
    ),
    Fault(
        "ways-by-the-yard",
        "core/sit/ways.py::choose",
        "np.floor(_shown(walks[i].equivalent_yd) / 10.0 + 0.5)",
        "_shown(walks[i].equivalent_yd)",
        WAYS,
    ),
    Fault(
        "own-winds-unknown-count-for-nothing",
        "core/sit/held.py::Places.counts",
        " | np.isnan(wind)",
        "",
        ("tests/core/sit/test_held.py",),
    ),
    Fault(
        "on-a-trail-whatever-its-distance",
        "core/sit/trails.py::on_it_within_yd",
        "np.minimum(near_yd, rules.wrong_within_yd)",
        "rules.trail_within_yd + 0 * near_yd",
        ("tests/core/sit/test_trails.py",),
    ),
    Fault(
        "one-free-trail-frees-nothing",
        "core/sit/trails.py::trails_verdict",
        "((verdict == WRONG) | ~asked).all(axis=-1)",
        "((verdict == WRONG) & asked).any(axis=-1)",
        ("tests/core/sit/test_trails.py",),
    ),
)
