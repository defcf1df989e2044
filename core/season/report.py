"""The season review as plain values: for --json, for tables and for CSV."""

import csv
import io

import numpy as np

from core.angles import HALF_WIDTH_16_DEG, POINT_WIDTH_DEG, POINTS_16
from core.season.gaps import holes, sit_winds, smallest_set
from core.season.one_stand import BY_CALM, BY_OTHER, BY_SIT, BY_WAY, OFF_SIT, OFF_TRAIL, OUT_WORDS
from core.season.review import HalfAnswer, SeasonAnswer
from core.season.saw_work import lost_to_ways
from core.sit.minutes import MORNING
from core.sit.verdicts import CANT, GO, STAY

GROUPS = (("go", GO), ("cant_call", CANT), ("stay_out", STAY))
HOUR_WORDS = ("clean", "just_off", "cant_call", "wrong")  # by verdict
SHARE_DIGITS = 4
LEFT_WORDS = ("none", "one", "two", "more")
CSV_COLUMNS = (
    *("id", "name", "sit", "month", "sits", "go", "cant_call", "stay_out"),
    *(f"out_{word}" for word in OUT_WORDS[1:]),
)


def shares(group) -> dict:
    """Number of sits and share of each group. Args: groups of some sits.

    Returns: shares are None where there is no sit.
    """
    group = np.asarray(group)
    found: dict = {"sits": len(group)}
    for word, value in GROUPS:
        found[word] = _share(group == value)
    return found


def _share(mask) -> float | None:
    return round(float(np.mean(mask)), SHARE_DIGITS) if len(mask) else None


def stand_shares(answer: SeasonAnswer, index: int) -> dict:
    """What a season holds for one stand. Args: the answer; the stand's place in it.

    `why_out` and `not_clean` are shares of all its sits: the first adds up to those
    that are not go, the second to those that are go and not clean.
    """
    stand = answer.stands[index]
    group = np.concatenate([h.by_stand[index].group for h in answer.halves])
    out = np.concatenate([h.by_stand[index].out for h in answer.halves])
    off = np.concatenate([h.by_stand[index].off for h in answer.halves])
    hours = np.sum([h.by_stand[index].hours for h in answer.halves], axis=0)
    only = answer.serves[:, index] & (answer.serves.sum(axis=1) == 1)
    causes = (BY_SIT, BY_WAY, BY_CALM, BY_OTHER)
    found = {"id": stand.id, "name": stand.name, **shares(group)}
    for half in answer.halves:
        found[half.sit] = shares(half.by_stand[index].group)
    found["months"] = _by_month(answer, index)
    found["years"] = year_spread(answer, index)
    found["why_out"] = {OUT_WORDS[c]: _share(out == c) for c in causes}
    found["not_clean"] = {"sit": _share(off == OFF_SIT), "trail": _share(off == OFF_TRAIL)}
    found["hours"] = {w: int(n) for w, n in zip(HOUR_WORDS, hours, strict=True)}
    found["only_stand_sits"] = int(only.sum())
    return found


def _by_month(answer: SeasonAnswer, index: int) -> dict:
    """Shares by month and sit, months in the order of the season."""
    found: dict = {}
    for month in month_order(answer):
        found[f"{month:02d}"] = {
            h.sit: shares(h.by_stand[index].group[h.month == month]) for h in answer.halves
        }
    return found


def month_order(answer: SeasonAnswer) -> list[int]:
    """The months of the season from its first on. Args: the answer."""
    dates = answer.halves[0].half.dates
    steps = dates.date.astype("datetime64[M]").astype(np.int64) - (dates.year - 1970) * 12
    return [int(s) % 12 + 1 for s in np.unique(steps)]


def year_spread(answer: SeasonAnswer, index: int) -> dict | None:
    """Lowest and highest share of go of the years, and their number; None for one year.

    Args: the answer; the stand's place in it.
    """
    if answer.one_year:
        return None
    year = np.concatenate([h.year for h in answer.halves])
    go = answer.go[:, index]
    each = [float(go[year == y].mean()) for y in answer.years]
    return {
        "years": len(each),
        "lowest_go": round(min(each), SHARE_DIGITS),
        "highest_go": round(max(each), SHARE_DIGITS),
    }


def left_by_wind(answer: SeasonAnswer) -> list[dict]:
    """How often each of 16 winds, and calm, leaves no stand, one, two or more.

    Args: the answer. Returns: a row a wind, north first, then calm and variable.
    """

    count = np.minimum(answer.serves.sum(axis=1), 3)
    direction, _ = sit_winds(answer)
    point = np.full(len(count), len(POINTS_16))
    known = ~np.isnan(direction)
    point[known] = ((direction[known] + HALF_WIDTH_16_DEG) // POINT_WIDTH_DEG).astype(int) % 16
    rows = []
    for i in range(len(POINTS_16) + 1):
        here = count[point == i]
        named = {"wind": POINTS_16[i] if i < 16 else "calm or variable", "sits": len(here)}
        rows.append({**named, **{w: int((here == n).sum()) for n, w in enumerate(LEFT_WORDS)}})
    return rows


def season_report(answer: SeasonAnswer, candidates=(), jobs=()) -> dict:
    """The answer of `season --json`.

    Args: the answer; next stands (`next_stand`); winter jobs (`saw_work`).
    """
    return {
        "property_name": answer.scene.ground.name,
        "history": answer.weather.source or answer.weather.format,
        "years": [] if answer.weather.kind == "typical" else list(answer.years),
        "spread": "no spread: one year" if answer.one_year else "between years",
        "stands": [stand_shares(answer, i) for i in range(len(answer.stands))],
        "property": {
            "sits": answer.n_sits,
            "sits_without_wind": answer.unknown,
            "some_stand_go": _share(answer.serves.any(axis=1)),
            "watch_seats": watch_seats(answer),
            **{h.sit: _some(h) for h in answer.halves},
            "left": left_by_wind(answer),
            "holes": holes(answer),
            "smallest_set": smallest_set(answer),
        },
        "candidates": [c.report() for c in candidates],
        "ways_in": [{"id": name, "sits_lost": n} for name, n in lost_to_ways(answer)],
        "saw_work": [job.report() for job in jobs],
    }


def _some(half: HalfAnswer) -> dict:
    return {"sits": len(half.half), "some_stand_go": _share(half.serves.any(axis=1))}


def watch_seats(answer: SeasonAnswer) -> list[str]:
    """Ids of stands that the owner only watches from all season; they fill no hole.

    Args: the answer.
    """
    by_half = [[own.watch.all() for own in h.by_stand] for h in answer.halves]
    return [s.id for s, *watch in zip(answer.stands, *by_half, strict=True) if all(watch)]


def season_csv(answer: SeasonAnswer) -> str:
    """The shares of every stand by sit and month, as CSV. Args: the answer."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(CSV_COLUMNS)
    for half in answer.halves:
        sits = half.sit
        for index, stand in enumerate(answer.stands):
            own = half.by_stand[index]
            for month in (None, *month_order(answer)):
                some = np.ones(len(half.half), bool) if month is None else half.month == month
                row = shares(own.group[some])
                out = [_share(own.out[some] == c) for c in (BY_SIT, BY_WAY, BY_CALM, BY_OTHER)]
                name = f"'{stand.name}" if stand.name[:1] in "=+-@" else stand.name
                writer.writerow([stand.id, name, sits, month or "all", *row.values(), *out])
    return text.getvalue()


def season_lines(report: dict) -> list[str]:
    """The report in plain lines. Args: of `season_report`."""
    whole = report["property"]
    lines = [
        f"{report['property_name']}: {whole['sits']} sits, {report['history']}",
        f"some stand is go on {_percent(whole['some_stand_go'])} of them",
        *watch_words(report),
        "",
        f"{'stand':24} {'go':>5} {'cant call':>9} {'stay out':>8}  morning  evening  only it",
    ]
    for row in sorted(report["stands"], key=lambda r: -(r["go"] or 0)):
        halves = [_percent(row.get(s, {}).get("go")) for s in (MORNING, "evening")]
        lines.append(
            f"{row['name'][:24]:24} {_percent(row['go']):>5} {_percent(row['cant_call']):>9} "
            f"{_percent(row['stay_out']):>8}  {halves[0]:>7}  {halves[1]:>7}  "
            f"{row['only_stand_sits']:>7}"
        )
    lines += ["", "winds that leave no stand:"]
    lines += [f"  {hole_words(h)}: {sits_words(h['sits_lost'])}" for h in whole["holes"][:10]]
    lines.append(f"smallest set: {', '.join(whole['smallest_set']) or 'none'}")
    lines += ["", "next stands:"] * bool(report["candidates"])
    lines += [
        f"  {c['lat']:.5f}, {c['lon']:.5f} by {c['corridor']}: adds {sits_words(c['adds_sits'])}; "
        f"{c['why']}"
        for c in report["candidates"]
    ]
    lines += ["", "saw work:"] * bool(report["saw_work"])
    lines += [f"  {job_words(job)}" for job in report["saw_work"]]
    return lines


def watch_words(report: dict) -> list[str]:
    """What is said of seats to watch from; nothing where there are none. Args: the report."""
    seats = report["property"]["watch_seats"]
    names = [row["name"] or row["id"] for row in report["stands"] if row["id"] in seats]
    return [f"only to watch from, so it fills no hole: {', '.join(names)}"] if names else []


def job_words(job: dict) -> str:
    """A winter job in words. Args: of `saw_work.Job.report`."""
    gain = sits_words(job["gains_sits"])
    return f"{job['words']}: gains {gain} of {job['of_sits']}, {job['cut_yd']} yd to cut"


def sits_words(count: int) -> str:
    """A number of sits in words. Args: the number."""
    return "1 sit" if count == 1 else f"{count} sits"


def hole_words(hole: dict) -> str:
    """A hole in words. Args: of `gaps.holes`."""
    if hole["from_deg"] is None:
        return f"{hole['sit']}s of calm or variable wind"
    middle = (hole["from_deg"] + HALF_WIDTH_16_DEG) % 360.0
    low, high = hole["speed_mph"]
    speed = f"over {low:g} mph" if high is None else f"{low:g} to {high:g} mph"
    return f"{hole['sit']}s of {POINTS_16[int(middle // POINT_WIDTH_DEG)]} wind, {speed}"


def _percent(share: float | None) -> str:
    return "none" if share is None else f"{share:.0%}"
