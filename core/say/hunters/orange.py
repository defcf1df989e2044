"""Orange, said wherever any season that covers the day asks for it."""

import datetime

from core.ground.layout import Property
from core.say.words import in_a_row
from core.sit.dates import orange_for, weapons_on
from core.sit.prepare import Sit


def orange_text(sit: Sit) -> str:
    """That orange is to be worn, and for which season; empty where none asks. Args: the sit."""
    season = sit.clock.season
    return orange_on(sit.scene.ground, sit.clock.date, season.weapon if season else None)


def orange_on(ground: Property, date: datetime.date, weapon: str | None = None) -> str:
    """The same for a date. Args: the property; the date; what is hunted with, if known."""
    wanting = orange_for(ground, date)
    if not wanting:
        return ""
    mine = (weapon or "").casefold()
    too = f", with the {weapon} too" if weapon and mine not in map(str.casefold, wanting) else ""
    verb = "cover" if len(wanting) > 1 else "covers"
    said = f"{in_a_row(wanting)} season"
    return f"Wear orange{too}, on the walk and on the drag as well: {said} {verb} this day."


def which_weapon_text(ground: Property, date: datetime.date, taken_as: str | None) -> str:
    """That more than one weapon may be hunted with, and which the answer is for.

    Args: the property; the date; the weapon of the answer. Returns: empty where there is no
    choice.
    """
    names = weapons_on(ground, date)
    if len(names) < 2 or taken_as is None:
        return ""
    return f"Open today: {in_a_row(names)}. This answer is for {taken_as}."
