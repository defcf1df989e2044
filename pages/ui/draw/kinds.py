"""What the kinds of things are called on the map, and how each is drawn."""

KIND_WORDS = {
    "stand": "Stand",
    "lane": "Way in or out (lane)",
    "corridor": "Trail (corridor)",
    "bedding": "Bed",
    "food": "Food",
    "truck": "Truck",
    "boundary": "Boundary",
    "no-shoot": "No shots",
    "draw": "Draw",
    "water": "Creek",
    "sign": "Sign",
    "camera": "Camera",
    "other": "Other place",
}
HINTS = {
    "lane": "Tap along the way, the truck end first. Done at the stand.",
    "corridor": "Tap along the trail, the bedding end first.",
    "draw": "Tap along the draw, its top first.",
    "Point": "Tap the place.",
    "LineString": "Tap along it, then Done.",
    "Polygon": "Tap its corners, then Done.",
}
AREAS_TOO = ("water", "other")  # kinds that are drawn as an area now and then


def kind_of(feature: dict) -> str:
    """The kind it is drawn and listed as: one of a later version is an other place."""
    kind = feature["properties"]["kind"]
    return kind if kind in KIND_WORDS else "other"


def feature_name(feature: dict) -> str:
    """How a feature is called on the screen: its name, else its id."""
    name = feature["properties"].get("name")
    return name if isinstance(name, str) else feature["id"]
