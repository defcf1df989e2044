"""What a thing of another program's map may be: by its symbol, its name and its shape.

A guess that the user sees and mends. What no word tells is left open, and asked: nothing
becomes a stand, a way or a bed because it is a point, a line or an area.
"""

import re

from core.ground.kinds import KINDS, LINE, POINT, POLYGON

UNKNOWN = ""  # to be asked
Words = tuple[tuple[str, tuple[str, ...]], ...]

# words that name a thing, by its shape, the most telling first
CAMERA = ("camera", ("camera", "cam", "photo"))
TRUCK = ("truck", ("truck", "parking", "park", "gate", "trailhead", "trail head", "car"))
STAND = (
    "stand",
    ("stand", "treestand", "ladder", "climber", "tripod", "blind", "hang on", "hunting", "seat"),
)
SIGN = ("sign", ("scrape", "rub", "sign", "track", "droppings"))
WATER = ("water", ("water", "waterhole", "pond", "spring", "creek", "river", "stream", "lake"))
NO_SHOOT = ("no-shoot", ("no shoot", "house", "barn", "building", "home", "safety"))
BOUNDARY = ("boundary", ("boundary", "property line", "border", "fence", "property"))
FOOD = ("food", ("food", "plot", "clover", "field", "corn", "bean", "oat", "crop", "orchard"))
BED = ("bedding", ("bedding", "bed", "thicket", "cane", "cover", "sanctuary"))
DRAW = ("draw", ("draw", "ditch", "hollow", "ravine", "gully"))
LANE = ("lane", ("lane", "way in", "way out", "access", "road", "path", "walk", "entry"))
TRAIL = ("corridor", ("corridor", "trail", "crossing", "deer", "run"))
BY_SHAPE: dict[str, Words] = {
    POINT: (CAMERA, TRUCK, STAND, SIGN, NO_SHOOT, WATER),
    LINE: (LANE, BOUNDARY, TRAIL, WATER, DRAW),
    POLYGON: (NO_SHOOT, FOOD, BED, WATER, BOUNDARY, DRAW),
}
# symbols that only mark a place: drawn and named, and nothing more
MARKS = ("flag", "tree")


def guess_kind(shape: str, hints: tuple[str, ...], name: str) -> str:
    """A kind that suits the shape, from the words beside a thing, then from its name.

    Args: Point, LineString or Polygon; its symbol and what else tells, as words; its name.
    Returns: a kind; `UNKNOWN` where nothing is told.
    """
    for text in (*hints, name):
        said = _said(text)
        for kind, words in BY_SHAPE.get(shape, ()):
            if any(_names(said, word) for word in words) and shape in KINDS[kind].shapes:
                return kind
    marked = any(_names(_said(hint), word) for hint in hints for word in MARKS)
    return "other" if marked and shape == POINT else UNKNOWN


def is_way_and_more(name: str) -> bool:
    """Whether a name holds a word of a way beside one of another line, as "walk in creek".

    Args: the name of a line. Such a name says nothing until the line's ends are known.
    """
    said = _said(name)
    kinds = {kind for kind, words in BY_SHAPE[LINE] if any(_names(said, word) for word in words)}
    return "lane" in kinds and len(kinds) > 1


def _said(text: str) -> str:
    """Small letters between spaces; a "stand of pines" is trees, and not one of ours."""
    said = f" {re.sub('[^a-z]+', ' ', text.lower())} "
    return said.replace(" stand of ", " ")


def _names(said: str, word: str) -> bool:
    return f" {word} " in said or f" {word}s " in said
