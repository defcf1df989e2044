"""Checks of single members of a property file, each with its message.

A table of `Field`s says what a record may hold; `read_record` reads one. A check takes
a value as JSON gave it and returns what the model holds, or raises `Fault`. Members that
no table names are left alone: they belong to other programs.
"""

import datetime
import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

Check = Callable[[Any], Any]
SHOWN_CHARACTERS = 60
CLOCK = re.compile(r"(?:[01][0-9]|2[0-3]):[0-5][0-9]")
MONTH_DAY = re.compile(r"[0-9]{2}-[0-9]{2}")
DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


class Fault(Exception):
    """A value that is refused: what is wrong, and the mend.

    Args:
        what: what is wrong, after the member's name ("is 3, ...").
        fix: what to write instead.
        path: the member's name, outer members first.
    """

    def __init__(self, what: str, fix: str, path: tuple[str, ...] = ()) -> None:
        self.what, self.fix, self.path = what, fix, path
        super().__init__(what)

    def under(self, name: str) -> "Fault":
        """The same fault, one level further out."""
        return Fault(self.what, self.fix, (name, *self.path))

    def text(self) -> str:
        """The member's full name and what is wrong with it."""
        return f"{'.'.join(self.path)} {self.what}".strip()


@dataclass(frozen=True)
class Field:
    """One member of a record. A default may be worked out from those before it."""

    name: str
    check: Check
    default: Any = None
    needed: bool = False
    attribute: str | None = None  # the model's name for it, where it differs


def read_record(members: dict, fields: tuple[Field, ...]) -> dict[str, Any]:
    """The values of a record by attribute; null and absent give the default.

    Raises: Fault, with the member's name.
    """
    values: dict[str, Any] = {}
    for field in fields:
        value = members.get(field.name)
        if value is None:
            if field.needed:
                raise Fault("is missing", f"Add {field.name}.", (field.name,))
            default = field.default
            value = default(values) if callable(default) else default
        else:
            value = named(field.check, value, field.name)
        values[field.attribute or field.name] = value
    return values


def shown(value: Any) -> str:
    """A value as the file has it, in one short printable line."""
    try:
        written = json.dumps(value, ensure_ascii=False)
    except (TypeError, ValueError, RecursionError):
        written = repr(type(value).__name__)
    return printable(written)


def printable(text: str, most: int = SHOWN_CHARACTERS) -> str:
    """Text in one line without characters that a terminal would obey."""
    cut = text if len(text) <= most else text[: most - 1] + "…"
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in cut)


def text(value: Any) -> str:
    """Any text. Raises: Fault."""
    if not isinstance(value, str):
        raise Fault(f"is {shown(value)}, not text", "Put it in quotation marks.")
    return value


def filled(value: Any) -> str:
    """Text with something in it. Raises: Fault."""
    if not text(value).strip():
        raise Fault(f"is {shown(value)}, with nothing in it", "Write a word or a name.")
    return value


def yes_no(value: Any) -> bool:
    """true or false. Raises: Fault."""
    if not isinstance(value, bool):
        raise Fault(f"is {shown(value)}, not yes or no", "Write true or false.")
    return value


def choice(words: tuple[str, ...]) -> Check:
    """A check for one of a few words. Raises: Fault."""

    def check(value: Any) -> str:
        if not isinstance(value, str) or value not in words:
            raise Fault(
                f"is {shown(value)}, which is not one of its words",
                f"Write one of: {', '.join(words)}.",
            )
        return value

    return check


@dataclass(frozen=True)
class number:
    """A check for a number in a range; true and false are none. Raises: Fault."""

    low: float
    high: float

    def __call__(self, value: Any) -> float:
        span = f"from {self.low:g} to {self.high:g}"
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise Fault(f"is {shown(value)}, not a number", f"Write a number {span}.")
        if not self.low <= value <= self.high:
            raise Fault(f"is {shown(value)}, out of range", f"Write a number {span}.")
        return float(value)


def whole(low: int, high: int) -> Check:
    """A check for a whole number from low to high. Raises: Fault."""

    def check(value: Any) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            raise Fault(
                f"is {shown(value)}, not a whole number from {low} to {high}",
                f"Write a whole number from {low} to {high}.",
            )
        return value

    return check


def clock(value: Any) -> str:
    """HH:MM on the 24-hour clock. Raises: Fault."""
    if not isinstance(value, str) or not CLOCK.fullmatch(value):
        raise Fault(f"is {shown(value)}, not a time of day", "Write it like 09:30, 00:00 to 23:59.")
    return value


def month_day(value: Any) -> str:
    """MM-DD; 29 February is a day. Raises: Fault."""
    fault = Fault(f"is {shown(value)}, not a day of the year", "Write month and day like 09-13.")
    if not isinstance(value, str) or not MONTH_DAY.fullmatch(value):
        raise fault
    try:
        datetime.date(2000, int(value[:2]), int(value[3:]))
    except ValueError:
        raise fault from None
    return value


def date(value: Any) -> str:
    """YYYY-MM-DD, a day that exists. Raises: Fault."""
    fault = Fault(f"is {shown(value)}, not a date", "Write year, month and day like 2026-02-14.")
    if not isinstance(value, str) or not DATE.fullmatch(value):
        raise fault
    try:
        datetime.date.fromisoformat(value)
    except ValueError:
        raise fault from None
    return value


def listed(check: Check, what: str, *, some: bool = False) -> Check:
    """A check for a list of things; with `some`, not an empty one. Raises: Fault."""

    def check_list(value: Any) -> tuple:
        if not isinstance(value, list):
            raise Fault(f"is {shown(value)}, not a list", f"Write a list of {what} in [ ].")
        if some and not value:
            raise Fault("is an empty list", f"Name {what}, or leave it out.")
        return tuple(named(check, item, f"#{place}") for place, item in enumerate(value, 1))

    return check_list


def named(check: Check, value: Any, name: str):
    """A value under its name or place. Raises: Fault, with that name in front."""
    try:
        return check(value)
    except Fault as fault:
        raise fault.under(name) from None


def record(fields: tuple[Field, ...], build: Callable[..., Any]) -> Check:
    """A check for a JSON object with members of its own. Raises: Fault."""

    def check(value: Any):
        if not isinstance(value, dict):
            raise Fault(f"is {shown(value)}, not an object", "Write its members in { }.")
        return build(**read_record(value, fields))

    return check


def directions(value: Any) -> tuple[tuple[float, float], ...]:
    """Pairs of directions [[a, b]], clockwise from a to b, each 0 to 360. Raises: Fault."""
    return listed(_pair, "pairs of directions like [[250, 320]]", some=True)(value)


def _pair(value: Any) -> tuple[float, float]:
    if not isinstance(value, list) or len(value) != 2:
        raise Fault(
            f"is {shown(value)}, not a pair of directions",
            "Write two directions clockwise, like [250, 320].",
        )
    degrees = number(0, 360)
    return degrees(value[0]), degrees(value[1])


def months(value: Any) -> tuple[int, ...]:
    """Months 1 to 12, each once, in order. Raises: Fault."""
    return tuple(sorted(set(listed(whole(1, 12), "months 1 to 12", some=True)(value))))
