"""A hill ground for tests: seven stands on slopes, a side valley, two beds on benches.

Made up for the tests and drawn in yards east and north of its middle. A ridge runs north
and south; its east face falls to a creek, and a side valley cuts into that face. The beds
lie on benches, one on either face. Every stand is a tree or two off a trail, on a slope of
15 to 30 %.
"""

import math

from core.ground.layout import (
    Area,
    Corridor,
    Lane,
    LonLat,
    Part,
    Person,
    Property,
    Season,
    Stand,
    Wanted,
)
from tests.grounds import at

CENTER = (-82.1, 39.55)  # lon, lat
ZONE = "America/New_York"


def place(east_yd: float, north_yd: float) -> LonLat:
    """(lon, lat) of a place some yards east and north of the ground's middle."""
    bearing = math.degrees(math.atan2(east_yd, north_yd))
    return at(CENTER, bearing, math.hypot(east_yd, north_yd))


def ring(east_yd: float, north_yd: float, wide_yd: float, deep_yd: float):
    """A rectangle round a place, counter-clockwise."""
    corners = ((1, 1), (-1, 1), (-1, -1), (1, -1))
    return tuple(place(east_yd + x * wide_yd, north_yd + y * deep_yd) for x, y in corners)


# bedding end first; yards
TRAILS = {
    "bench-run": ((140, 330), (110, 200), (40, 90), (-70, 30)),
    "saddle": ((-300, -130), (-190, -165), (-105, -170), (40, -130), (190, -105), (390, -85)),
    "creek-side": ((190, 360), (330, 260), (390, 110), (430, -40)),
    "west-contour": ((-345, -105), (-335, 60), (-250, 150), (-130, 75)),
}
# id: place; way still air slides, grade, cover, how it lies, range, wanted morning and evening
STANDS = {
    "ironwood": ((127, 208), 75, 22, "timber", "side", 30, "best", "good"),
    "hollow-head": ((58, 76), 165, 18, "timber", "gap", 30, "good", "good"),
    "saddle-ash": ((-108, -148), 255, 20, "edge", "gap", 30, "good", "best"),
    "hackberry": ((115, -136), 350, 28, "timber", "side", 30, "good", "good"),
    "creek-ladder": ((388, 62), 100, 15, "edge", "bench", 30, "good", "best"),
    "west-fence": ((-316, 48), 265, 25, "timber", "side", 30, "good", "good"),
    "ridge-end": ((-185, 92), 300, 30, "open", "point", 40, None, None),
}


def hill_ground() -> Property:
    """The whole ground."""
    stands = tuple(
        Stand(
            id=id_,
            name=id_.replace("-", " ").capitalize(),
            at=place(*where),
            cover=cover,
            lies=lies,
            range_yd=float(reach),
            downhill_deg=float(down),
            grade_pct=float(grade),
            wanted=Wanted(morning=morning, evening=evening),
        )
        for id_, (where, down, grade, cover, lies, reach, morning, evening) in STANDS.items()
    )
    trails = tuple(
        Corridor(id_, id_.replace("-", " ").capitalize(), tuple(place(*p) for p in line))
        for id_, line in TRAILS.items()
    )
    areas = (
        Area("upper-bench", "Upper bench", "bedding", ring(165, 385, 60, 35)),
        Area("pine-bench", "Pine bench", "bedding", ring(-345, -150, 40, 45)),
        Area("ridge-strip", "Ridge strip", "food", ring(-105, 40, 25, 45), held="night"),
        Area("creek-clover", "Creek clover", "food", ring(430, -85, 35, 45), held="night"),
    )
    return Property(
        uid="hill",
        name="Hill ground",
        timezone=ZONE,
        center=CENTER,
        elevation_m=260.0,
        seasons=(Season(weapon="bow", first="09-20", last="01-10"),),
        parts=(Part("early", "09-20", "10-24"), Part("rut", "10-25", "11-20", all_day=True)),
        people=(Person("Guest", 20.0),),
        stands=stands,
        corridors=trails,
        areas=areas,
        lanes=_lanes(),
    )


def _lanes() -> tuple[Lane, ...]:
    def lane(id_, stands, *line):
        name = id_.replace("-", " ").capitalize()
        return Lane(id_, name, tuple(place(*p) for p in line), stands)

    return (
        lane(
            "ridge-road",
            ("saddle-ash", "hollow-head"),
            (-60, -560),
            (-90, -350),
            (-100, -155),
            (-20, 20),
            (52, 70),
        ),
        lane(
            "creek-path",
            ("creek-ladder", "ironwood"),
            (560, -420),
            (520, -60),
            (440, 40),
            (395, 60),
            (330, 180),
            (140, 205),
        ),
        lane("south-cut", ("hackberry",), (300, -520), (200, -330), (118, -145)),
        lane(
            "west-lane",
            ("west-fence", "ridge-end"),
            (-560, 420),
            (-420, 200),
            (-330, 60),
            (-310, 50),
            (-190, 100),
        ),
    )
