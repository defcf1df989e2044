"""The picture of a lesson, and of a drawn situation: the property's own map."""

import dataclasses

from core.angles import opposite_deg
from core.learn.classroom import Picture
from core.say.words import wind_words
from core.show.emphasis import Emphasis, emphasis_of
from core.show.map import WIDTH, property_map
from core.show.palette import DARK, Palette
from core.sit.prepare import Sit
from core.sit.scene import Scene


def lesson_map(
    scene: Scene,
    picture: Picture,
    *,
    colours: Palette = DARK,
    name: str = "m",
    width: float = WIDTH,
) -> str:
    """The map of a lesson as SVG.

    Args: the scene; what to bring out; colours; the sheet's name and width.
    """
    emphasis = emphasis_in(picture)
    return property_map(scene, emphasis, colours=colours, name=name, width=width)


def emphasis_in(picture: Picture) -> Emphasis:
    """What a lesson's map brings out. Args: the lesson's picture."""
    if picture.sit is not None and picture.seat is not None:
        whole = emphasis_of(picture.sit, picture.seat)
        lit = picture.lit or whole.reached
        return dataclasses.replace(whole, reached=lit, noted=picture.noted)
    return Emphasis(
        stand=picture.stand,
        air_to_deg=None if picture.air_from_deg is None else opposite_deg(picture.air_from_deg),
        beside_arrow=picture.beside_arrow,
        way_in_m=picture.ways_m[0] if picture.ways_m else None,
        way_out_m=picture.ways_m[1] if len(picture.ways_m) > 1 else None,
        reached=picture.lit,
        noted=picture.noted,
        still_ways_m=() if picture.still_way_m is None else (picture.still_way_m,),
        whole=True,
    )


def question_map(
    sit: Sit, *, colours: Palette = DARK, name: str = "m", width: float = WIDTH
) -> str:
    """The ground and the first hour's wind, without an answer.

    Args: the sit asked about; colours; the sheet's name and width.
    """
    weather, first = sit.rows.weather, sit.window.start
    wind = float(weather.wind_from_deg[first])
    blown = wind_words(weather, first)
    emphasis = Emphasis(
        air_to_deg=opposite_deg(wind), beside_arrow=(f"wind {blown}", "at the start"), whole=True
    )
    return property_map(sit.scene, emphasis, colours=colours, name=name, width=width)
