"""The property's people, and how far each shoots from a stand with what."""

from core.errors import BadRequest
from core.ground.layout import ByWeapon, Person, Property, Stand


def person_called(ground: Property, name: str | None) -> Person | None:
    """One of the property's people. Args: the property; a name, None for nobody.

    Raises: BadRequest for an unknown one.
    """
    if name is None:
        return None
    for person in ground.people:
        if person.name.casefold() == name.casefold():
            return person
    known = ", ".join(p.name for p in ground.people) or "nobody yet"
    raise BadRequest(f"no hunter is called '{name}'", "the hunter", f"People here: {known}.")


def range_yd(ground: Property, stand: Stand, person: Person | None, weapon: str | None) -> float:
    """The smallest of the ranges that are known. [yd]

    Args: the property; the stand; who sits there, None for anyone; the weapon by its name,
    None or empty where none is known.
    Missing: a person or a weapon without a range sets no limit; the stand always has one.
    """
    own = [stand_range_yd(stand, weapon), weapon_range_yd(ground, weapon)]
    if person is not None:
        own.append(_of(person.ranges_yd, weapon, person.range_yd))
    return min(yards for yards in own if yards is not None)


def stand_range_yd(stand: Stand, weapon: str | None) -> float:
    """A stand's own range with a weapon. [yd] Args: the stand; the weapon by its name."""
    yards = _of(stand.ranges_yd, weapon, stand.range_yd)
    return stand.range_yd if yards is None else yards


def weapon_range_yd(ground: Property, weapon: str | None) -> float | None:
    """A weapon's own range. [yd] Args: the property; its name. None: it has none."""
    named = (weapon or "").casefold()
    return next((w.range_yd for w in ground.weapons if w.name.casefold() == named), None)


def _of(by_weapon: ByWeapon, weapon: str | None, otherwise: float | None) -> float | None:
    named = (weapon or "").casefold()
    return next((yards for name, yards in by_weapon if name.casefold() == named), otherwise)
