"""A table while it is written, and what is known of it."""

import random
from dataclasses import dataclass, field

import numpy as np

HOUR_S = 3600
# one nautical mile is 1852 m and one statute mile 1609.344 m, exactly
UNITS_MPS = {"mph": 1609.344 / 3600, "kt": 1852 / 3600, "m/s": 1.0, "km/h": 1000 / 3600}


@dataclass
class Draft:
    """A table while it is written, and what is known of it."""

    rng: random.Random
    start_s: np.ndarray
    wind_from_deg: np.ndarray
    speed_mps: np.ndarray
    place: str
    near_deg: float = 0.6
    columns: list[tuple[str, list[str]]] = field(default_factory=list)
    below: dict[str, str] = field(default_factory=dict)  # units in a line below the header
    above: list[str] = field(default_factory=list)
    answers: dict = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)  # word of a column: its header
    said: dict[str, str] = field(default_factory=dict)  # how each thing was written
    place_known: bool = True
    hopeless: str = ""  # why no answer makes it readable
    keep: np.ndarray | None = None  # rows that count; None for all
    text: str = ""

    def add(self, word: str, header: str, cells: list[str]) -> None:
        self.columns.append((header, cells))
        if word:
            self.names[word] = header
