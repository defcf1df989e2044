"""The forms in which tables write a date."""

import re

WEEKDAY = re.compile(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+", re.IGNORECASE)
DATES = (
    ("ymd", re.compile(r"(?P<y>\d{4})([-/.])(?P<m>\d{1,2})\2(?P<d>\d{1,2})(?!\d)")),
    ("ymd", re.compile(r"(?P<y>\d{4})(?P<m>\d{2})(?P<d>\d{2})(?=$|[T\s_]|\d{2})")),
    ("open", re.compile(r"(?P<a>\d{1,2})([-/.])(?P<b>\d{1,2})\2(?P<y>\d{4}|\d{2})(?!\d)")),
    (
        "ymd",
        re.compile(
            r"(?P<d>\d{1,2})(?:st|nd|rd|th)?[-\s./]*(?P<m>[A-Za-z]{3,9})\.?,?"
            r"[-\s./]*(?P<y>\d{4})(?!\d)"
        ),
    ),
    (
        "ymd",
        re.compile(
            r"(?P<m>[A-Za-z]{3,9})\.?\s*(?P<d>\d{1,2})(?:st|nd|rd|th)?,?\s+"
            r"(?P<y>\d{4})(?!\d)"
        ),
    ),
)
