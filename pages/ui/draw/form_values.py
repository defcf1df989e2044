"""What a box of the form shows of a model, and what the file gets of a box."""

from typing import Any

from pages.ui.draw import form_rows as f


def value_at(model: Any, path: tuple[str, ...]) -> Any:
    """What a model holds at a path; None where nothing is said."""
    value = model
    for name in path:
        if value is None:
            return None
        value = _step(value, name)
    return value


def _step(value: Any, name: str) -> Any:
    if isinstance(value, tuple) and len(value) == 2 and name in ("morning", "evening"):
        return value[name == "evening"]  # the pair of a part
    if isinstance(value, tuple):
        return dict(value).get(name)
    return getattr(value, name, None)


def shown_value(row: f.FormRow, value: Any) -> Any:
    """A model's value as its box takes it."""
    if row.how == f.WINDS:
        return ", ".join(f"{a:g}-{b:g}" for a, b in value or ())
    if row.how in (f.MONTHS, f.STANDS):
        return list(value or ())
    if row.how in (f.TEXT, f.LONG, f.DAY, f.CHOICE):
        return value or ""
    return value


def written_value(row: f.FormRow, value: Any) -> Any:
    """What a box holds as the file has it; None takes it out. Raises: ValueError."""
    if row.how == f.WINDS:
        pairs = [part.split("-") for part in value.replace("°", "").split(",") if part.strip()]
        return [[float(a), float(b)] for a, b in pairs] or None
    if row.how == f.MONTHS:
        return sorted(value) or None
    if row.how == f.STANDS:
        return list(value)
    if row.path == ("name",):
        return value.strip() or None
    return None if value in ("", None) else value
