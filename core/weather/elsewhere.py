"""Whether a weather file is for this ground, or for another place on earth.

Files and services that say where they are for are held to it: near by nothing is said,
some miles off it is said, farther off a service is refused and a file is asked about.
"""

import dataclasses
import math

from core.angles import point_name
from core.errors import BadWeather, Choice, NeedsAnswer
from core.units import M_PER_MILE
from core.weather.answers import Answers
from core.weather.hours import Hours, Spot

EARTH_M = 6_371_008.8  # mean radius of the WGS84 ellipsoid
# common practice, no source: a forecast's cell is up to some miles wide, and hills and
# coasts make another wind within a few dozen
SAID_MILES, ASKED_MILES = 5.0, 30.0
USE, LEAVE = "use", "leave"


def apart_miles(a: Spot, b: Spot) -> float:
    """How far two places lie apart, along the great circle; infinite off the earth. [mi]

    Args: (lon, lat) each. [deg] Source: the haversine formula on a sphere.
    """
    if not all(abs(lat) <= 90.0 and abs(lon) <= 360.0 for lon, lat in (a, b)):
        return math.inf
    (east_a, north_a), (east_b, north_b) = ((math.radians(x) for x in spot) for spot in (a, b))
    half = math.sin((north_b - north_a) / 2) ** 2
    half += math.cos(north_a) * math.cos(north_b) * math.sin((east_b - east_a) / 2) ** 2
    return 2 * EARTH_M * math.asin(min(1.0, math.sqrt(half))) / M_PER_MILE


def is_elsewhere(spot: Spot | None, center: Spot) -> bool:
    """Whether a place is too far off to be meant; not where none is told.

    Args: the place a source says it is for; the ground's. (lon, lat) [deg]
    """
    return spot is not None and apart_miles(spot, center) > ASKED_MILES


def elsewhere_words(spot: Spot, center: Spot) -> str:
    """How far off a place is, as: it is for a place 12 miles north-east of this ground.

    Args: the place a source says it is for; the ground's. (lon, lat) [deg]
    """
    miles = apart_miles(spot, center)
    if math.isinf(miles):
        far = "no place on earth"
    else:
        far = f"a place {miles:,.0f} miles {_toward(center, spot)} of this ground"
    words = f"it is for {far} ({spot[1]:.2f}, {spot[0]:.2f})"
    if miles > ASKED_MILES and apart_miles((spot[1], spot[0]), center) <= ASKED_MILES:
        words += ", with latitude and longitude swapped"
    return words


def _toward(from_: Spot, to: Spot) -> str:
    east = (to[0] - from_[0] + 180.0) % 360.0 - 180.0
    east *= math.cos(math.radians((from_[1] + to[1]) / 2))
    return point_name(math.degrees(math.atan2(east, to[1] - from_[1])) % 360.0)


def place_notes(spot: Spot | None, center: Spot) -> tuple[str, ...]:
    """What to say of a place some miles off or more; nothing of one near by or not told.

    Args: the place a source says it is for; the ground's. (lon, lat) [deg]
    """
    near = spot is None or apart_miles(spot, center) <= SAID_MILES
    return () if near or spot is None else (elsewhere_words(spot, center),)


def for_ground(hours: Hours, center: Spot, where: str, answers: Answers) -> Hours:
    """The hours of a file for a ground, with a note where they are from some miles off.

    Args: the hours; (lon, lat) of the ground [deg]; the file's name for messages; what the
    user answered. Missing: hours that do not say where they are for are taken as they are.
    Raises: NeedsAnswer where they are for a place far off; BadWeather where the user says
    to leave them.
    """
    notes = place_notes(hours.spot, center)
    if notes and is_elsewhere(hours.spot, center):
        if answers.elsewhere is None:
            choices = (
                Choice(USE, "use its wind here all the same"),
                Choice(LEAVE, "leave it: it is for another place"),
            )
            raise NeedsAnswer(notes[0], where, "elsewhere", choices)
        if answers.elsewhere == LEAVE:
            raise BadWeather(notes[0], where, "Bring one for this ground.")
    return dataclasses.replace(hours, notes=(*notes, *hours.notes))
