"""After a sit that was planned: what a few taps say of it, as entries."""

import datetime
from collections.abc import Iterable
from dataclasses import replace

from core.keep.entries import AIR, AS_TOLD, OTHERWISE, ROUND, SEEN, SIT, Entry, entry_of

AIR_CHOICES = ("as told", "otherwise", "round and round")
DEER_CHOICES = ("none", "seen", "winded me", "shot")
_FELT = dict(zip(AIR_CHOICES, (AS_TOLD, OTHERWISE, ROUND), strict=True))
ASKED_DAYS = 7  # a sit longer ago is no longer asked about
ENDS = {"morning": 11, "evening": 19, "all-day": 19}  # local hour, where no time was kept


def waiting(entries: Iterable[Entry], now: datetime.datetime) -> list[Entry]:
    """Sits that were planned, are over, and of which nothing was said; the latest first.

    Args: entries of the log; the clock where the ground is.
    """
    found = []
    for entry in entries:
        date = datetime.date.fromisoformat(entry.date)
        if entry.kind != SIT or not entry.get("planned"):
            continue
        if not 0 <= (now.date() - date).days <= ASKED_DAYS:
            continue
        if now >= _over(entry, date, now):
            found.append(entry)
    return sorted(found, key=lambda e: (e.date, e.written), reverse=True)


def _over(entry: Entry, date: datetime.date, now: datetime.datetime) -> datetime.datetime:
    if entry.get("to"):
        return datetime.datetime.fromisoformat(entry.get("to"))
    hour = ENDS[entry.get("sit")]
    return datetime.datetime(date.year, date.month, date.day, hour, tzinfo=now.tzinfo)


def after_sit(sit: Entry, air: str | None, deer: str | None, now: str) -> tuple[Entry, list[Entry]]:
    """The sit as it was, and what was said of its air and its deer.

    Args: the planned sit; of AIR_CHOICES and DEER_CHOICES, None for what was not said; the
    ISO time. Returns: the changed sit, and new entries that belong to it.
    """
    values = {name: value for name, value in sit.values.items() if name != "planned"}
    if deer == "none":
        values["nothing_seen"] = True
    more = []
    if air is not None:
        told = _told_wind(sit)
        felt: dict = {"felt": _FELT[air], "stand": sit.get("stand"), **told}
        if air == "as told" and "told_from_deg" in told:
            felt["from_deg"] = told["told_from_deg"]
        more.append(entry_of(AIR, sit.date, felt, of=sit.id, now=now))
    if deer in ("seen", "winded me", "shot"):
        seen: dict = {"stand": sit.get("stand"), "deer": "unknown"}
        seen |= {"winded me": {"winded": True}, "shot": {"shot": True}}.get(deer, {})
        more.append(entry_of(SEEN, sit.date, seen, of=sit.id, now=now))
    return replace(sit, values=values), more


def _told_wind(sit: Entry) -> dict:
    """The wind that was told of the first hour with a direction."""
    told = sit.get("told") or {}
    for hour in told.get("hours", ()):
        if isinstance(hour, dict) and hour.get("wind_from_deg") is not None:
            return {"told_from_deg": hour["wind_from_deg"]}
    return {}


def latest_first(entries: Iterable[Entry]) -> list[Entry]:
    """Entries with the latest day and sit first; what belongs to a sit stands behind it."""
    entries = list(entries)
    parents = {e.id for e in entries}
    belonging: dict[str, list[Entry]] = {}
    heads = []
    for entry in entries:
        if entry.of in parents:
            belonging.setdefault(str(entry.of), []).append(entry)
        else:
            heads.append(entry)
    return [e for head in reversed(heads) for e in (head, *belonging.get(head.id, ()))]


def taken_by_plans(
    entries: Iterable[Entry], date: datetime.date, sit: str, hunter: str | None
) -> dict[str, str]:
    """Who means to sit where, for the others: names by the id of the stand.

    Args: entries of the log; the local date and the kind of sit; who asks. A plan of one's
    own takes nothing from oneself, nor does one without a name; a day holds both its halves.
    """
    own = (hunter or "").casefold()
    found: dict[str, str] = {}
    for entry in entries:
        if entry.kind != SIT or not entry.get("planned") or entry.date != date.isoformat():
            continue
        same = entry.get("sit") == sit or "all-day" in (sit, entry.get("sit"))
        if same and entry.get("who") and entry.get("who").casefold() != own:
            found[entry.get("stand")] = entry.get("who")
    return found
