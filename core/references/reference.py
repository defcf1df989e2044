"""One source, and how it was seen."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Reference:
    text: str
    seen: str = "read"  # read, second-hand, memory
    where: str = ""
