"""Changes of a property's rules: seasons, weapons, people, parts, times and distances.

Each function gives a new document and leaves the old one as it was; what the file's own
rules refuse is refused here, by the same words.
"""

from collections.abc import Callable
from dataclasses import dataclass

from core.errors import BadProperty
from core.ground.kinds import DAYS
from core.ground.parse import property_from_document
from core.ground.written_dates import read_month_day

Choose = Callable[[tuple[str, ...]], str]

SEASONS, WEAPONS, PEOPLE, PARTS = "seasons", "weapons", "people", "parts"
CP = "common practice, no source"


@dataclass(frozen=True)
class Setting:
    """One number or clock time of the rules: where it lies, its default, what it does."""

    group: str  # sit or air
    name: str
    label: str
    default: float | str
    does: str
    source: str = CP
    step: float = 1.0


SETTINGS = (
    Setting("sit", "morning_end", "You climb down in the morning", "10:30", "The morning ends."),
    Setting("sit", "evening_h", "Hours of an evening sit", 3.5, "Back from legal end.", step=0.25),
    Setting("sit", "settle_min", "Minutes in the stand before light", 30.0, "You are seated then."),
    Setting("sit", "gear_up_min", "Minutes to gear up", 10.0, "At the truck so much sooner."),
    Setting(
        "sit",
        "walk_mph",
        "Walking speed in the dark, mph",
        1.5,
        "Ways without minutes of your own.",
        step=0.1,
    ),
    Setting("sit", "apart_yd", "Two hunters sit so many yards apart", 150.0, "Nearer is no seat."),
    Setting(
        "sit", "pass_yd", "Nobody walks past another nearer than, yards", 50.0, "Nearer is no way."
    ),
    Setting(
        "sit",
        "out_stay_within_yd",
        "A way out keeps you out under, yards",
        100.0,
        "Air on deer on the way home; 0 never does.",
    ),
    Setting(
        "air",
        "wrong_within_yd",
        "Wrong wind: your air like so many yards or less",
        250.0,
        "A bed or food reached so strongly is wrong.",
        "no study sets this distance",
        10.0,
    ),
    Setting(
        "air",
        "clean_beyond_yd",
        "Clean: your air like more than so many yards",
        500.0,
        "Between the two it is just-off.",
        "no study sets this distance",
        10.0,
    ),
    Setting(
        "air",
        "trail_within_yd",
        "On a trail: your air like so many yards or less",
        75.0,
        "Deer meet it before the shot.",
    ),
    Setting(
        "air",
        "trail_shot_times",
        "Or so many times the yards to the trail",
        3.5,
        "The larger of the two counts.",
        step=0.5,
    ),
    Setting(
        "air",
        "cant_call_below_mps",
        "Can't call under, meters a second",
        1.3,
        "Light air has no direction that lasts.",
        "2.5 knots: below it airports report calm",
        0.1,
    ),
    Setting(
        "air",
        "slope_wind_mps",
        "Slope wind of a 20 % slope, meters a second",
        0.7,
        "How strongly air slides and climbs.",
        "no published value for small hills",
        0.1,
    ),
    Setting(
        "air",
        "slope_fades_at_mps",
        "Slope wind is gone at a wind of, meters a second",
        5.4,
        "A stronger wind overrules the slope.",
        "no published value for small hills",
        0.1,
    ),
)


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


def day_written(
    text: str, what: str, chosen: Callable[[tuple[str, ...]], str] | None = None
) -> str:
    """A day of the year as MM-DD. Args: as written; what it is, for the message; who chooses
    between two days where the order is open.

    Raises: BadProperty for no day, and for either of two where nobody chooses.
    """
    found = read_month_day(text)
    if len(found) > 1 and chosen is not None:
        return chosen(found)
    if len(found) != 1:
        told = "may be either of two days" if found else "is no day of the year"
        raise BadProperty(f"'{text[:40]}' {told}", what, "Write it like 13 Sep or 09-13.")
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


def _weekday(word: str) -> str:
    return next((d for d in DAYS if word.casefold().startswith(d.casefold())), "")


def closed_told(closed: list[dict]) -> str:
    """Closed hours as they are typed. Args: as the file has them."""
    return "\n".join(f"{' '.join(c['days'])} {c['from']}-{c['to']}" for c in closed)
