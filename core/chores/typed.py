"""Rules of the year's work as their owner types them, as the property file keeps them."""

import datetime
from typing import Any

from core.errors import BadRequest
from core.ground.layout import Property
from core.ground.written_dates import read_month_day
from core.ground.yearly.members import with_work

ONCE, EACH_YEAR, EVERY = "once", "each year", "every so many days"
TIMES = (ONCE, EACH_YEAR, EVERY)


def day_typed(text: str, where: str) -> str | None:
    """A day of the year. Args: as typed; what it is, for the message. Returns: MM-DD.

    Missing: None for nothing typed. Raises: BadRequest for no day, or for either of two.
    """
    if not text.strip():
        return None
    found = read_month_day(text)
    if len(found) != 1:
        what = "could be two days" if found else "is no day"
        raise BadRequest(f"'{text[:40]}' {what}", where, "Write it like 1 Mar or 03-01.")
    return found[0]


def window_typed(first: str, last: str, where: str) -> list[str] | None:
    """A window of days of the year. Args: both ends as typed; what it is.

    Missing: None where neither is typed. Raises: BadRequest where one is missing or no day.
    """
    ends = day_typed(first, where), day_typed(last, where)
    if ends == (None, None):
        return None
    if None in ends:
        raise BadRequest("one end is missing", where, "Give the first and the last day.")
    return [str(end) for end in ends]


def with_own(document: dict, name: str, feature: str, time: str, values: tuple[Any, ...]) -> dict:
    """A document with one more chore of the owner's own.

    Args: a property's document; its name; id of a feature, empty for none; one of TIMES; for
    once a date, for each year two days as typed, else a number of days. Raises: BadRequest.
    """
    if not name.strip():
        raise BadRequest("it has no name", "your own chore", "Say what is to be done.")
    own: dict[str, Any] = {"name": name.strip(), **({"feature": feature} if feature else {})}
    if time == ONCE:
        own["on"] = values[0].isoformat()
    elif time == EACH_YEAR:
        window = window_typed(values[0], values[1], "your own chore")
        if window is None:
            raise BadRequest("it has no days", "your own chore", "Give the first and the last day.")
        own["each_year"] = window
    else:
        own["every_days"] = int(values[0])
    return with_one(document, "own", own)


def with_gear(document: dict, name: str, feature: str, by: datetime.date) -> dict:
    """A document with one more thing that has a printed date.

    Args: a property's document; its name; id of a stand, empty for none; the date. An
    earlier one of that name and place is taken out. Raises: BadRequest.
    """
    if not name.strip():
        raise BadRequest("it has no name", "gear", "Say what it is, like Nell's harness.")
    gear = {"name": name.strip(), "replace_by": by.isoformat()}
    gear |= {"feature": feature} if feature else {}
    return with_one(document, "gear", gear)


def with_thicket(document: dict, feature: str, sections: int) -> dict:
    """A document with one more bed that is cut back in sections, one a winter.

    Args: a property's document; the bed's id; how many sections.
    """
    return with_one(document, "thickets", {"feature": feature, "sections": int(sections)})


def with_plots(document: dict, typed: dict[str, tuple[str, str]]) -> dict:
    """A document with the days of the year on which work is done on plots.

    Args: a property's document; by job its two days as typed, both empty for none.
    Raises: BadRequest.
    """
    windows = {job: window_typed(*days, job) for job, days in typed.items()}
    return with_work(document, plots={j: w for j, w in windows.items() if w is not None} or None)


def with_one(document: dict, member: str, new: dict) -> dict:
    """A document with one more thing in a list of its rules of work, once.

    Args: a property's document; own, gear, jobs or thickets; the thing as the file has it. An
    earlier one of its name and place is taken out.
    """
    kept = [
        item
        for item in (document["property"].get("work") or {}).get(member) or []
        if (item.get("name"), item.get("feature")) != (new.get("name"), new.get("feature"))
    ]
    return with_work(document, **{member: [*kept, new]})


def without(document: dict, member: str, name: str, feature: str) -> dict:
    """A document without one thing in a list of its rules of work.

    Args: a property's document; own, gear, jobs or thickets; its name, empty for none; id of
    its feature, empty for none.
    """
    kept = [
        item
        for item in (document["property"].get("work") or {}).get(member) or []
        if (item.get("name") or "", item.get("feature") or "") != (name, feature)
    ]
    return with_work(document, **{member: kept or None})


def left_out(document: dict, key: str, *, out: bool) -> dict:
    """A document in which a chore is not done on this ground, or is again.

    Args: a property's document; the chore's key; whether it is left out.
    """
    keys = (document["property"].get("work") or {}).get("left_out") or []
    kept = [k for k in keys if k != key] + ([key] if out else [])
    return with_work(document, left_out=kept or None)


def name_left_out(key: str, ground: Property) -> str:
    """A chore's key in words. Args: the key; the ground."""
    kind, _, where = key.partition(":")
    feature = where.partition(":")[0]
    return f"{kind}: {ground.name_of(feature)}" if feature else kind
