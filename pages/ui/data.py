"""What the pages read: property files, and the answer for a typed wind."""

import datetime
from pathlib import Path

from core.ground.layout import Property
from core.ground.store import Opened, open_property
from core.sits.answer import answer_sit, prepare_sit
from core.sits.page import first_lines, other_row
from core.sits.scene import Scene
from core.weather.entry import parse_wind


def property_at(path: str) -> Opened:
    """A property file. Args: its path. Raises: BadProperty."""
    return open_property(Path(path))


def answer(ground: Property, wind: str, date: datetime.date, sit: str):
    """Lines for the best stand and rows for all. Raises: StandWindError."""
    ready = prepare_sit(Scene(ground), parse_wind(wind), date, sit)
    found = answer_sit(ready)
    return first_lines(found), [other_row(ready, s) for s in found.stands]
