"""Small invented grounds for tests, laid out by the geodesic, and typed winds."""

import datetime

from geographiclib.geodesic import Geodesic

from core.answer.one_sit import StandSit, stand_sit
from core.ground.layout import Area, Corridor, Lane, Property, Season, Stand
from core.sit.prepare import Sit, prepare_sit
from core.sit.scene import Scene
from core.units import M_PER_YD, MPS_PER_MPH
from core.weather.hours import make_hours

PIEDMONT = (-79.9, 36.1)  # lon, lat
NOV_10 = datetime.date(2026, 11, 10)
ALL_YEAR = Season(weapon="bow", first="01-01", last="12-31")


def at(center, bearing_deg: float, yards: float) -> tuple[float, float]:
    """(lon, lat) of a place some yards from another, by the geodesic."""
    place = Geodesic.WGS84.Direct(center[1], center[0], bearing_deg, yards * M_PER_YD)
    return place["lon2"], place["lat2"]


def square(middle, half_yd: float):
    """A ring round a place, counter-clockwise."""
    return tuple(at(middle, bearing, half_yd * 2**0.5) for bearing in (45, 315, 225, 135))


def bed(center, bearing_deg: float, yards: float, id_="cane", half_yd=20.0, **more) -> Area:
    """A square bed, its middle some yards from a place."""
    ring = square(at(center, bearing_deg, yards), half_yd)
    return Area(id=id_, name=id_.title(), kind="bedding", ring=ring, **more)


def food(center, bearing_deg: float, yards: float, id_="clover", **more) -> Area:
    """A square food plot."""
    ring = square(at(center, bearing_deg, yards), 20.0)
    more = {"held": "night", **more}
    return Area(id=id_, name=id_.title(), kind="food", ring=ring, **more)


def lane(center, *steps, id_="lane", stands=("oak",), **more) -> Lane:
    """A lane through (bearing, yards) from a place, the truck first."""
    return Lane(id_, id_.title(), tuple(at(center, *s) for s in steps), tuple(stands), **more)


def corridor(center, *steps, id_="trail", **more) -> Corridor:
    """A corridor through (bearing, yards) from a place, the bedding end first."""
    return Corridor(id_, id_.title(), tuple(at(center, *s) for s in steps), **more)


def ground(center=PIEDMONT, timezone="America/New_York", stand=None, **more) -> Property:
    """A property with one stand, Oak, at its centre and a way in from the north."""
    stands = more.pop("stands", (stand or Stand("oak", "Oak", center),))
    features = {"lanes": (lane(center, (0, 440), (0, 5)),), "seasons": (ALL_YEAR,), **more}
    return Property("u", "Test ground", timezone, center, 200.0, stands=stands, **features)


def wind(from_deg=None, mph=8.0, cloud=0.5, half_width_deg=11.25, **more):
    """A typed wind: held for every hour; without a direction calm or variable."""
    return make_hours(
        start_s=[0],
        wind_from_deg=float("nan") if from_deg is None else from_deg,
        half_width_deg=half_width_deg,
        speed_mps=mph * MPS_PER_MPH,
        cloud_frac=cloud,
        held=True,
        **more,
    )


def hourly(start_s: int, from_deg, mph=8.0, cloud=0.5, **more):
    """A forecast: one direction an hour from a start on."""
    return make_hours(
        start_s=[start_s + 3600 * i for i in range(len(from_deg))],
        wind_from_deg=from_deg,
        speed_mps=mph * MPS_PER_MPH,
        cloud_frac=cloud,
        **{"half_width_deg": 5.0, **more},
    )


def sit_of(prop: Property, weather, sit="morning", date=NOV_10, **more) -> Sit:
    return prepare_sit(Scene(prop), weather, date, sit, **more)


def judged(prop: Property, weather, sit="morning", date=NOV_10, **more) -> StandSit:
    """The first stand of a property in one sit."""
    return stand_sit(sit_of(prop, weather, sit, date, **more), prop.stands[0])
