"""Times of a table in the forms that people write, with or without their zone."""

import datetime
import random
import zoneinfo
from dataclasses import dataclass

import numpy as np
from truth_draft import HOUR_S, Draft

MINUS = ("-", "-", "\u2212")


@dataclass
class Clock:
    """How the times are shown: the zone's clock or a fixed offset."""

    kind: str
    fixed_s: int | None
    header: str = ""
    cell: str = ""
    name: str = ""


def write_times(d: Draft) -> None:
    rng = d.rng
    way = rng.choice(WAYS)
    clock = _zone(d, way)
    d.said["way"], d.said["zone"] = way, clock.kind
    ends = way == "hour24" or (rng.random() < 0.3 and way not in ("epoch", "epoch_ms"))
    starts = d.start_s + (HOUR_S if ends else 0)
    zone = (
        zoneinfo.ZoneInfo(d.place)
        if clock.fixed_s is None
        else datetime.timezone(datetime.timedelta(seconds=clock.fixed_s))
    )
    local = [datetime.datetime.fromtimestamp(int(s), zone).replace(tzinfo=None) for s in starts]
    local = _one_far(d, way, local)
    # hours 1 to 24 tell that they end, where nothing is said, only by having no 0
    telling = any(not t.hour and not t.minute for t in local)
    words, tail = _label(d, way, ends, telling)
    d.answers["hour_label"] = "end" if ends else "start"
    first = len(d.columns)
    WRITERS[way](d, local, words, tail, clock)
    if ends or words:
        d.said["label"] = f"{'end' if ends else 'start'}: {words or tail or 'not said'}"
    if clock.kind in ("zone column", "offset column"):
        header = {
            "zone column": ("time zone", "tz", "timezone"),
            "offset column": ("utc_offset", "UTC offset", "gmt offset"),
        }
        d.add("", rng.choice(header[clock.kind]), [clock.name] * len(local))
    if rng.random() < 0.15:
        order = d.columns[first:]
        rng.shuffle(order)
        d.columns[first:] = order


def _one_far(d: Draft, way: str, local):
    """Now and then a year that was mistyped in one row."""
    if len(local) < 8 or way not in ("iso", "dmy", "words", "parts") or d.rng.random() > 0.08:
        return local
    at = d.rng.randrange(1, len(local) - 1)
    year = local[at].year + d.rng.choice((-30, 30, 60))
    wrong = local[at].replace(day=min(local[at].day, 28), year=year)
    d.answers["far_hours"] = "drop"
    d.said["far"] = str(wrong)
    d.keep = np.arange(len(local)) != at
    return [*local[:at], wrong, *local[at + 1 :]]


def _offset_text(rng: random.Random, offset_s: int) -> str:
    minutes = abs(offset_s) // 60
    sign = rng.choice(MINUS) if offset_s < 0 else "+"
    whole = f"{minutes // 60}" if not minutes % 60 else f"{minutes // 60}:{minutes % 60:02d}"
    size = rng.choice(
        (whole, f"{minutes // 60:02d}:{minutes % 60:02d}", f"{minutes // 60:02d}{minutes % 60:02d}")
    )
    return f"{rng.choice(('UTC', 'GMT', 'utc', 'gmt'))}{rng.choice(('', '', ' '))}{sign}{size}"


def _zone(d: Draft, way: str) -> Clock:
    rng, zone = d.rng, zoneinfo.ZoneInfo(d.place)
    at = [datetime.datetime.fromtimestamp(int(s), zone) for s in d.start_s]
    offset = int(at[0].utcoffset().total_seconds())
    if way in ("epoch", "epoch_ms"):
        return Clock("epoch", 0)
    kind = rng.choice(_zone_kinds(at, way))
    d.place_known = rng.random() < 0.7
    sign = "-" if offset < 0 else "+"
    d.answers["zone"] = f"UTC{sign}{abs(offset) // 3600:02d}:{abs(offset) // 60 % 60:02d}"
    if kind == "utc":
        d.answers["zone"] = "UTC"
        told = ("_utc", " (UTC)", " UTC", " [GMT]", " Z", "_gmt")
        return Clock(kind, 0, header=rng.choice(told))
    if kind.startswith("offset"):
        return _offset_clock(d, kind, offset)
    if kind.startswith("abbreviation"):
        letters, at_end = at[0].tzname(), kind.endswith("cell")
        told = rng.choice((f" ({letters})", f"_{letters.lower()}", f" {letters}"))
        told, cell = ("", f" {letters}") if at_end else (told, "")
        return Clock(kind, offset, header=told, cell=cell)
    if kind == "untold fixed":
        return Clock(kind, offset)
    return _place_clock(d, kind)


def _zone_kinds(at, way: str) -> list[str]:
    """How the zone of some times may be told."""
    kinds = ["utc", "offset header", "offset header bare"] * 2
    kinds += ["offset above", "offset column", "name header", "name above", "zone column"]
    kinds += ["untold", "untold fixed"]
    if way in ("iso", "dmy", "words", "twelve"):
        kinds += ["offset cell", "offset cell"]
    same = len({t.utcoffset() for t in [*at, at[-1] + datetime.timedelta(hours=1)]}) == 1
    letters = at[0].tzname()
    if same and letters.isalpha() and letters != "UTC":
        kinds += ["abbreviation header"] * 2 + ["abbreviation cell"] * (way in ("iso", "words"))
    return kinds


def _offset_clock(d: Draft, kind: str, offset: int) -> Clock:
    rng, text = d.rng, _offset_text(d.rng, offset)
    if kind == "offset header":
        told = (f" ({text})", f" [{text}]", f" ({text[3:].strip()})")
        return Clock(kind, offset, header=rng.choice(told))
    if kind == "offset header bare":
        return Clock(kind, offset, header=f"{rng.choice(' _')}{text}")
    if kind == "offset cell":
        return Clock(kind, offset, cell=rng.choice((text[3:].strip(), f" {text}")))
    if kind == "offset above":
        said = rng.choice(("Time zone: {}", "All times are {}", "times in {}"))
        d.above.append(said.format(text))
        return Clock(kind, offset)
    return Clock(kind, offset, name=text[3:].strip())


def _place_clock(d: Draft, kind: str) -> Clock:
    d.answers["zone"] = d.place
    if kind == "name above":
        said = d.rng.choice(("Time zone: {}", "Timezone = {}", "tz: {}"))
        d.above.append(said.format(d.place))
    header = f" ({d.place})" if kind == "name header" else d.rng.choice(("", "", " (local)"))
    return Clock(kind, None, header=header, name=d.place)


def _label(d: Draft, way: str, ends: bool, telling: bool) -> tuple[str, str]:
    """A whole name of the column, and what is said behind it."""
    rng = d.rng
    if way in ("epoch", "epoch_ms"):
        return "", ""
    if not ends:
        return rng.choice(
            (
                ("", ""),
                ("", ""),
                ("", ""),
                ("valid from", ""),
                ("start time", ""),
                ("", " (start of hour)"),
                ("hour beginning", ""),
            )
        )
    if way == "hour24" and telling and rng.random() < 0.7:
        return "", ""
    if rng.random() < 0.2:
        d.above.append(
            rng.choice(
                (
                    "Times are hour ending.",
                    "Each time is the end of the hour.",
                    "Wind is the mean of the preceding hour.",
                    "Time stamps mark the end of the interval.",
                )
            )
        )
        return "", ""
    return rng.choice(
        (
            ("", " (end of hour)"),
            ("valid until", ""),
            ("hour ending", ""),
            ("end time", ""),
            ("period end", ""),
            ("", " (hour ending)"),
            ("", ", end of interval"),
            ("valid to", ""),
            ("time until", ""),
            ("", " [interval end]"),
        )
    )


def _stamp_header(d: Draft, words: str, tail: str, clock: Clock) -> str:
    base = words or d.rng.choice(
        (
            "time",
            "Time",
            "date time",
            "timestamp",
            "datetime",
            "valid time",
            "Observation Time",
            "Date/Time",
        )
    )
    if d.rng.random() < 0.3:
        base = base.replace(" ", "_")
    return f"{base}{tail}{clock.header}"


def _whole(form: str):
    def write(d: Draft, local, words, tail, clock: Clock) -> None:
        cells = [t.strftime(form) + clock.cell for t in local]
        d.add("time", _stamp_header(d, words, tail, clock), cells)

    return write


def _iso(d: Draft, local, words, tail, clock: Clock) -> None:
    form = d.rng.choice(("%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M:%S", "%Y/%m/%d %H:%M"))
    _whole(form)(d, local, words, tail, clock)


def _twelve(d: Draft, local, words, tail, clock: Clock) -> None:
    cells = [
        f"{t:%Y-%m-%d} {(t.hour - 1) % 12 + 1}:{t:%M} {'PM' if t.hour > 11 else 'AM'}" + clock.cell
        for t in local
    ]
    d.add("time", _stamp_header(d, words, tail, clock), cells)


def _dmy(d: Draft, local, words, tail, clock: Clock) -> None:
    order = d.rng.choice(("%d/%m/%Y", "%m/%d/%Y", "%d.%m.%Y"))
    d.answers["dayfirst"] = order != "%m/%d/%Y"
    header = _stamp_header(d, words, tail, clock)
    if d.rng.random() < 0.3:
        header += {"%d": " DD/MM/YYYY", "%m": " MM/DD/YYYY"}[order[:2]]
    d.add("time", header, [t.strftime(f"{order} %H:%M") + clock.cell for t in local])


def _short_year(d: Draft, local, words, tail, clock: Clock) -> None:
    order = d.rng.choice(("%y/%m/%d", "%d/%m/%y", "%m/%d/%y", "%y.%m.%d", "%d.%m.%y"))
    d.answers["yearfirst"] = order.startswith("%y")
    d.answers["dayfirst"] = order.startswith("%d")
    d.said["way"] = f"short year {order}"
    cells = [t.strftime(f"{order} %H:%M") for t in local]
    d.add("time", _stamp_header(d, words, tail, clock), cells)


def _split(d: Draft, local, words, tail, clock: Clock) -> None:
    day = d.rng.choice(("Date", "date", "day"))
    d.add("time", day, [f"{t:%Y-%m-%d}" for t in local])
    header = f"{words or d.rng.choice(('time', 'Time', 'clock'))}{tail}{clock.header}"
    d.add("clock", header, [f"{t:%H:%M}" for t in local])


def _split_half(d: Draft, local, words, tail, clock: Clock) -> None:
    d.add("time", "Date", [f"{t:%Y-%m-%d}" for t in local])
    header = f"{words or 'Time'}{tail}{clock.header}"
    d.add("clock", header, [f"{(t.hour - 1) % 12 + 1}:{t:%M}" for t in local])
    halves = d.rng.choice((("AM", "PM"), ("am", "pm"), ("a.m.", "p.m."), ("A", "P")))
    if d.rng.random() < 0.12 and len({t.hour // 12 for t in local}) == 2 and len(local) > 12:
        d.hopeless = "no column says am or pm"
        return
    name = d.rng.choice(("AM/PM", "ampm", "am_pm", "half", "meridiem", "A/P"))
    d.add("", name, [halves[t.hour > 11] for t in local])


def _split_hour(d: Draft, local, words, tail, clock: Clock) -> None:
    d.add("time", "date", [f"{t:%Y-%m-%d}" for t in local])
    form = d.rng.choice(("{}", "{:02d}", "{}.0"))
    header = f"{words or d.rng.choice(('hour', 'Hour', 'hr'))}{tail}{clock.header}"
    d.add("clock", header, [_hour(form, t) for t in local])


def _hour(form: str, t: datetime.datetime) -> str:
    return form.format(t.hour) if not t.minute else f"{t:%H:%M}"


def _hour24(d: Draft, local, words, tail, clock: Clock) -> None:
    """Hours 1 to 24, each the end of its hour."""
    before = [t - datetime.timedelta(hours=1) for t in local]
    d.add("time", "date", [f"{t:%Y-%m-%d}" for t in before])
    minutes = any(t.minute for t in local)
    cells = [f"{t.hour + 1}:{t:%M}" if minutes else str(t.hour + 1) for t in before]
    header = f"{words or d.rng.choice(('hour', 'HE', 'hr', 'time'))}{tail}{clock.header}"
    if minutes and any(c.startswith("24:") and c != "24:00" for c in cells):
        d.hopeless = "24:30 is no time"
    d.add("clock", header, cells)


def _parts(d: Draft, local, words, tail, clock: Clock) -> None:
    for name, value in (("year", "%Y"), ("month", "%m"), ("day", "%d")):
        d.add("", name, [t.strftime(value) for t in local])
    d.add("", f"{words or 'hour'}{tail}{clock.header}", [f"{t:%H}" for t in local])
    if any(t.minute for t in local):
        d.add("", "minute", [f"{t:%M}" for t in local])


def _epoch(scale: int):
    def write(d: Draft, *_) -> None:
        name = d.rng.choice(("epoch", "unix time", "timestamp", "time"))
        d.add("time", name, [str(int(s) * scale) for s in d.start_s])

    return write


def _run_together(d: Draft, local, words, tail, clock: Clock) -> None:
    form = d.rng.choice(("%Y%m%d%H%M", "%Y%m%d%H%M.0", "%Y%m%d%H%M%S"))
    if not any(t.minute for t in local) and d.rng.random() < 0.4:
        form = d.rng.choice(("%Y%m%d%H", "%Y%m%d%H.0"))
    d.said["way"] = f"run together {form}"
    d.add("time", _stamp_header(d, words, tail, clock), [t.strftime(form) for t in local])


def _spreadsheet(d: Draft, local, words, tail, clock: Clock) -> None:
    zero = datetime.datetime(1899, 12, 30)  # noqa: DTZ001
    days = [(t - zero).total_seconds() / 86400 for t in local]
    d.add("time", _stamp_header(d, words, tail, clock), [f"{x:.8f}" for x in days])


def _weekday(d: Draft, local, words, tail, clock: Clock) -> None:
    """A day of the week before a date whose order only that day may tell."""
    order = d.rng.choice(("%d/%m/%Y", "%m/%d/%Y", "%Y-%m-%d", "%d %b %Y", "%d/%m/%y"))
    d.answers["dayfirst"] = not order.startswith("%m")
    d.answers["yearfirst"] = False
    form = f"{d.rng.choice(('%a', '%A'))} {order} %H:%M"
    header = _stamp_header(d, words, tail, clock)
    d.add("time", header, [t.strftime(form) + clock.cell for t in local])


def _sheet_split(d: Draft, local, words, tail, clock: Clock) -> None:
    """A spreadsheet's day and part of a day, or its clock, in two columns."""
    zero = datetime.datetime(1899, 12, 30)  # noqa: DTZ001
    d.add("time", "date", [str((t - zero).days) for t in local])
    share = d.rng.random() < 0.5
    cells = [f"{(t.hour * 60 + t.minute) / 1440:.8f}" if share else f"{t:%H:%M}" for t in local]
    d.add("clock", f"{words or 'time'}{tail}{clock.header}", cells)


WRITERS = {
    "weekday": _weekday,
    "sheet_split": _sheet_split,
    "iso": _iso,
    "dmy": _dmy,
    "short": _short_year,
    "twelve": _twelve,
    "words": _whole("%d %b %Y %H:%M"),
    "split": _split,
    "split_half": _split_half,
    "hour": _split_hour,
    "hour24": _hour24,
    "parts": _parts,
    "epoch": _epoch(1),
    "epoch_ms": _epoch(1000),
    "run": _run_together,
    "sheet": _spreadsheet,
}
WAYS = (*WRITERS, "iso", "iso", "iso", "iso", "split", "short", "hour24", "run", "split_half")
