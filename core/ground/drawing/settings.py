"""Changes of a property's rules: seasons, weapons, people, parts, times and distances.

Each function gives a new document and leaves the old one as it was; what the file's own
rules refuse is refused here, by the same words.
"""

from core.errors import BadProperty
from core.ground.drawing.setting_table import Setting
from core.ground.kinds import DAYS
from core.ground.parse import property_from_document
from core.ground.written_dates import read_month_day

SEASONS, WEAPONS, PEOPLE, PARTS = "seasons", "weapons", "people", "parts"


def value_of(document: dict, setting: Setting) -> float | str:
    """What holds now, the default where the file says nothing. Args: document; the setting."""
    group = document["property"].get(setting.group) or {}
    value = group.get(setting.name)
    return setting.default if value is None else value


def with_value(document: dict, setting: Setting, value: float | str | None) -> dict:
    """A document with another value. Args: document; the setting; None for its default.

    Raises: BadProperty for one that the file may not hold.
    """
    rules = document["property"]
    group = {k: v for k, v in (rules.get(setting.group) or {}).items() if k != setting.name}
    if value is not None:
        group[setting.name] = value
    return _checked(document, {**rules, setting.group: group})


def listed(document: dict, what: str) -> list[dict]:
    """The seasons, weapons, people or parts of a document, as the file has them.

    Args: document; which. Weapons that only seasons name are listed behind the others.
    """
    found = list(document["property"].get(what) or [])
    if what == WEAPONS:
        known = {item["name"].casefold() for item in found}
        for season in listed(document, SEASONS):
            if season["weapon"].casefold() not in known:
                known.add(season["weapon"].casefold())
                found.append({"name": season["weapon"]})
    return found


def with_item(document: dict, what: str, at: int | None, members: dict | None) -> dict:
    """A document with one season, weapon, person or part changed, added or taken out.

    Args: document; which list; the place in it, None for a new one; members that are set,
    None to take it out. Members that are not named stay; those set to None go.
    Raises: BadProperty.
    """
    items = listed(document, what)
    was = dict(items[at]) if at is not None else {}
    now = None
    if members is not None:
        now = {k: v for k, v in {**was, **members}.items() if v is not None}
    if at is None:
        items += [now] if now is not None else []
    else:
        items[at : at + 1] = [] if now is None else [now]
    if what == PEOPLE and now is not None:
        now.setdefault("ranges_yd", {})
    rules = {**document["property"], what: items}
    if what == WEAPONS and was and now and was["name"] != now.get("name"):
        return _checked(*_renamed(document, rules, was["name"], str(now.get("name") or "")))
    return _checked(document, rules)


def _renamed(document: dict, rules: dict, old: str, new: str) -> tuple[dict, dict]:
    """A weapon's new name wherever the old one stands."""

    def ranges(members: dict) -> dict:
        by_weapon = members.get("ranges_yd")
        if not isinstance(by_weapon, dict):
            return members
        same = {new if k.casefold() == old.casefold() else k: v for k, v in by_weapon.items()}
        return {**members, "ranges_yd": same}

    seasons = [
        {**s, "weapon": new} if s["weapon"].casefold() == old.casefold() else s
        for s in rules.get(SEASONS) or []
    ]
    people = [ranges(person) for person in rules.get(PEOPLE) or []]
    features = [{**f, "properties": ranges(f["properties"])} for f in document["features"]]
    return {**document, "features": features}, {**rules, SEASONS: seasons, PEOPLE: people}


def with_range_everywhere(document: dict, weapon: str, yards: float) -> dict:
    """Every stand is given the same range with one weapon. Raises: BadProperty."""

    def ranged(feature: dict) -> dict:
        members = feature["properties"]
        if members.get("kind") != "stand":
            return feature
        others = {
            k: v
            for k, v in (members.get("ranges_yd") or {}).items()
            if k.casefold() != weapon.casefold()
        }
        return {**feature, "properties": {**members, "ranges_yd": {**others, weapon: yards}}}

    features = [ranged(feature) for feature in document["features"]]
    return _checked({**document, "features": features}, document["property"])


def _checked(document: dict, rules: dict) -> dict:
    changed = {**document, "property": rules}
    property_from_document(changed, "the settings")
    return changed


# --- as people write them ---


class OpenDay(BadProperty):
    """A day such as 9/10, which may be either of two."""


def day_written(text: str, what: str, month_first: bool | None = None) -> str:
    """A day of the year as MM-DD. Args: as written; what it is, for the message; whether the
    month stands first in a day such as 9/10, None where nobody said.

    Raises: BadProperty for no day; OpenDay for either of two where nobody said which.
    """
    found = read_month_day(text)
    if len(found) > 1 and month_first is not None:
        typed = f"{int(text.strip().split('/')[0]):02d}"
        return next(day for day in found if (day[:2] == typed) is month_first)
    if len(found) > 1:
        raise OpenDay(f"'{text[:40]}' may be either of two days", what, "Write it like 13 Sep.")
    if not found:
        raise BadProperty(
            f"'{text[:40]}' is no day of the year", what, "Write it like 13 Sep or 09-13."
        )
    return found[0]


def closed_written(text: str) -> list[dict]:
    """Closed hours as typed, one a line: days, from, to. Raises: BadProperty, with the line."""
    closed = []
    for line in filter(str.strip, text.splitlines()):
        *days, hours = line.replace(",", " ").split()
        first, dash, last = hours.partition("-")
        named = [
            next((d for d in DAYS if day.casefold().startswith(d.casefold())), "") for day in days
        ]
        if not dash or not days or "" in named:
            raise BadProperty(
                f"'{line.strip()[:40]}' is no line of closed hours",
                "closed hours",
                "Write days and hours like Sun 09:30-12:30.",
            )
        closed.append({"days": named, "from": first.zfill(5), "to": last.zfill(5)})
    return closed


def closed_told(closed: list[dict]) -> str:
    """Closed hours as they are typed. Args: as the file has them."""
    return "\n".join(f"{' '.join(c['days'])} {c['from']}-{c['to']}" for c in closed)
