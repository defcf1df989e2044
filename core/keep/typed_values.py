"""Values of an entry as people type them: winded=yes, yards=60, date=2026-11-10."""

from collections.abc import Iterable
from typing import Any

from core.ground import fields as f
from core.keep.entries import BadEntry, Entry

YES, NO = ("yes", "y", "true"), ("no", "n", "false")


def changed_values(old: Entry, written: Iterable[str]) -> tuple[str, dict[str, Any]]:
    """Date and values of an entry with what was typed in them.

    Args: the entry; such as `winded=yes`; nothing behind the sign takes a value out.
    Returns: unchecked values, as the entry's own table takes them. Raises: BadEntry where
    a word is no NAME=VALUE.
    """
    date, values = old.date, dict(old.values)
    for word in written:
        name, sign, text = word.partition("=")
        name = name.strip()
        if not sign or not name:
            raise BadEntry(f"'{f.printable(word)}' is not NAME=VALUE", "the log", "Like yards=60.")
        if name == "date":
            date = text.strip()
        elif text.strip():
            values[name] = typed(text.strip())
        else:
            values.pop(name, None)
    return date, values


def typed(text: str) -> Any:
    """Yes or no, a number, or the text itself."""
    low = text.casefold()
    if low in YES or low in NO:
        return low in YES
    try:
        number = float(text)
    except ValueError:
        return text
    if number != number or abs(number) == float("inf"):
        return text
    return int(number) if number == int(number) and "." not in text else number
