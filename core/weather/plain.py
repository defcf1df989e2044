"""The hourly table as plain data and back, so that a sit can be judged again later."""

import dataclasses
import math
from typing import Any

import numpy as np

from core.weather.hours import Hours, make_hours

LISTS = ("notes", "spot")  # what is no column of the hours


def hours_to_plain(hours: Hours) -> dict[str, Any]:
    """A table as lists, numbers and text; NaN as None, columns without a value left out."""
    plain: dict[str, Any] = {}
    for column in dataclasses.fields(Hours):
        value = getattr(hours, column.name)
        if isinstance(value, np.ndarray):
            told = [None if isinstance(v, float) and math.isnan(v) else v for v in value.tolist()]
            if any(v is not None for v in told):
                plain[column.name] = told
        else:
            plain[column.name] = list(value) if isinstance(value, tuple) else value
    return plain


def hours_from_plain(plain: dict[str, Any]) -> Hours:
    """The table that plain data tells. Args: as `hours_to_plain` gives it.

    Columns of a later program are passed over. Raises: ValueError where it is none.
    """
    names = {column.name for column in dataclasses.fields(Hours)}
    told = {name: value for name, value in plain.items() if name in names}
    if not isinstance(told.get("start_s"), list):
        raise ValueError("no hours in it")
    columns = {
        name: np.array([math.nan if v is None else v for v in value])
        if isinstance(value, list) and name not in LISTS
        else value
        for name, value in told.items()
    }
    columns["notes"] = tuple(told.get("notes", ()))
    if told.get("spot"):
        columns["spot"] = tuple(told["spot"])
    return make_hours(**columns)
