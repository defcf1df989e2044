"""Tables of wind written from known hours, in the words and forms that people use.

Nothing here knows how the program reads: a table is drawn from a seed, and what it
leaves open it leaves open on purpose. `answers` are what its writer would answer.
"""

import csv
import datetime
import io
import random
import re
import zoneinfo

import numpy as np
from truth_draft import HOUR_S, Draft
from truth_times import write_times
from truth_winds import write_direction, write_speed

PLACES = (
    "America/Chicago",
    "America/Chicago",
    "America/New_York",
    "America/Denver",
    "America/St_Johns",
    "Australia/Adelaide",
    "Asia/Kolkata",
    "Asia/Kathmandu",
    "Pacific/Chatham",
    "Asia/Shanghai",
    "Asia/Taipei",
    "Europe/Berlin",
    "Europe/London",
    "UTC",
    "Australia/Lord_Howe",
    "Asia/Tehran",
    "America/Sao_Paulo",
    "Africa/Casablanca",
    "America/Santiago",
    "Africa/Cairo",
    "America/Nuuk",
    "Antarctica/Troll",
)


def draw(seed: int) -> Draft:
    """The table of a seed."""
    rng = random.Random(seed)
    draft = _hours(rng)
    write_times(draft)
    if rng.random() < 0.5:
        write_direction(draft)
        write_speed(draft)
    else:
        write_speed(draft)
        write_direction(draft)
    _others(draft)
    _preamble(draft)
    _write(draft)
    return draft


def _hours(rng: random.Random) -> Draft:
    place = rng.choice(PLACES)
    zone = zoneinfo.ZoneInfo(place)
    n = rng.choice((3, 8, 24, 30, 48, 100))
    day = datetime.datetime(
        rng.choice((2024, 2025, 2026, 2027)), rng.randint(1, 12), rng.randint(1, 28), tzinfo=zone
    )
    first = int((day + datetime.timedelta(hours=rng.randint(0, 23))).timestamp())
    if rng.random() < 0.15:
        first = _before_a_change(rng, first, zone)
    steps = {"any": 360, "light": 100, "north": 36}
    at = rng.choice(list(steps) + ["any"] * 3)
    wind = [float(rng.randrange(0, steps[at]))]
    for _ in range(n - 1):
        wind.append(wind[-1] + rng.randint(-25, 25))
    if at == "north":
        wind = [float(rng.randint(1, 36)) for _ in wind]
    speed = [float(rng.randint(1, 24)) for _ in range(n)]
    if rng.random() < 0.05:
        speed[rng.randrange(n)] = 0.0
    draft = Draft(rng, first + HOUR_S * np.arange(n), np.array(wind) % 360, np.array(speed), place)
    draft.said["wind"] = at
    return draft


def _before_a_change(rng: random.Random, first_s: int, zone: zoneinfo.ZoneInfo) -> int:
    """Some hours before the zone's clock moves next, at the same minute; else the instant."""

    def offset(at_s: int):
        return datetime.datetime.fromtimestamp(at_s, zone).utcoffset()

    for day in range(370):
        at_s = first_s + day * 24 * HOUR_S
        if offset(at_s) != offset(at_s + 24 * HOUR_S):
            return at_s - rng.randint(0, 6) * HOUR_S
    return first_s


def _others(d: Draft) -> None:
    rng, n = d.rng, len(d.start_s)
    if rng.random() < 0.3:
        run = datetime.datetime.fromtimestamp(int(d.start_s[0]), datetime.UTC)
        run = run.replace(minute=0) - datetime.timedelta(hours=rng.randint(2, 9))
        name = rng.choice(
            (
                "issued",
                "issued_utc",
                "run time",
                "model run",
                "reference time (UTC)",
                "init_utc",
                "initialized",
                "forecast_reference_time",
                "runtime_utc",
                "cycle (UTC)",
                "issue time UTC",
                "analysis time",
                "base time",
                "published at",
                "last update UTC",
            )
        )
        d.said["run"] = name
        d.columns.insert(0, (name, [f"{run:%Y-%m-%d %H:%M}"] * n))
    if rng.random() < 0.2:
        d.columns.append(("temp (F)", [str(rng.randint(20, 70)) for _ in range(n)]))
    if rng.random() < 0.1:
        d.columns.append(("wind gust direction", [str(rng.randint(1, 360)) for _ in range(n)]))
    if rng.random() < 0.1:
        d.columns.insert(0, ("id", [str(i) for i in range(n)]))
    if rng.random() < 0.1:
        d.columns.append(("note", [rng.choice(("", "ok", "windy to the west")) for _ in range(n)]))


def _preamble(d: Draft) -> None:
    rng = d.rng
    lines = (
        "Station report",
        "Download time UTC: 2026-11-09 18:03",
        "Generated 2026-11-09 12:00 GMT",
        "Created at 06:00 EST",
        "Warning: wind gusts over 45 mph expected",
        "High wind advisory above 30 knots until Tuesday",
        "Issued time: 2026-11-09 06:00 UTC",
        "Wind to shift into the north",
        "Elevation 250 m",
        "Report time (UTC): 18:00",
        "Retrieved from the archive at 12:00 Zulu time",
        "Prepared for the hunting club",
        "Server time zone UTC",
        "Wind limit 10 m/s",
        "Speed limit for boats 5 kt",
        "Times are local",
        "All times local standard time",
        "Local forecast for the valley",
        "Report made in local time",
    )
    for _ in range(rng.choice((0, 0, 0, 1, 2))):
        line = rng.choice(lines)
        d.above.insert(rng.randint(0, len(d.above)), line)
        d.said["above"] = f"{d.said.get('above', '')}|{line}"


def _write(d: Draft) -> None:
    rng = d.rng
    headers = [h for h, _ in d.columns]
    rows = [list(r) for r in zip(*(cells for _, cells in d.columns), strict=True)]
    separator = rng.choice((",", ",", ",", ";", "\t", "|", "  "))
    loose = any("  " in c or " " in c[:1] or not c for row in [headers, *rows] for c in row)
    if separator == "  " and (loose or d.below):
        separator = ","
    if separator == ";" and rng.random() < 0.5:
        rows = [[re.sub(r"^(\d+)\.(\d+)$", r"\1,\2", c) for c in row] for row in rows]
    if rng.random() < 0.1:
        rows.reverse()
    if d.below:
        rows.insert(0, [d.below.get(h, "") for h in headers])
    if separator == "  ":
        body = "\n".join("   ".join(row) for row in [headers, *rows]) + "\n"
    else:
        out = io.StringIO()
        csv.writer(out, delimiter=separator, lineterminator="\n").writerows([headers, *rows])
        body = out.getvalue()
    head = "".join(f"{rng.choice(('', '', '# '))}{line}\n" for line in d.above)
    d.text = head + ("\n" if head and rng.random() < 0.3 else "") + body


def turns_apart_deg(a, b):
    """Degrees between directions."""
    return np.abs((np.asarray(a) - np.asarray(b) + 180) % 360 - 180)
