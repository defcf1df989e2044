"""Chores in words: what to do, why, what to bring, and the usual cautions."""

import datetime

from core.chores import kinds as k
from core.chores.due import COMING, DONE, NOW, OVERDUE, Chore, resting
from core.chores.worth import Worth, worth_of
from core.ground.layout import Property
from core.say.words import in_a_row, minutes_text

CP = "common practice, no source"
TITLES = {
    k.CUT: "Cut {}",
    k.SPRAY: "Respray {}",
    k.CHECK: "Look along {}",
    k.TRIM: "Trim {}",
    k.SHOTS: "Shooting lanes of {}",
    k.STRAPS: "Straps and bolts of {}",
    k.TREE: "Look over the tree of {}",
    k.THICKET: "Cut back a section of {}",
    k.CAMERA: "See to {}",
    k.SIGNS: "Walk along {}",
    k.WALK: "Walk the sign",
    k.PERMITS: "Permits and tags",
    k.RECORDS: "Jaws and records",
    "soil-test": "Soil test of {}",
    "lime": "Lime {}",
    "seed": "Seed {}",
    "mow": "Mow {}",
    k.GEAR: "Replace {name}",
}
KINDS_SAID = {
    k.CUT: "Cut trails",
    k.SPRAY: "Respray trails",
    k.CHECK: "Look along trails",
    k.TRIM: "Trim ways in",
    k.SHOTS: "Shooting lanes",
    k.STRAPS: "Straps and bolts",
    k.TREE: "Trees of stands",
    k.THICKET: "Thickets in sections",
    k.CAMERA: "Cameras",
    k.SIGNS: "Signs and boundary",
    k.WALK: "Walk the sign",
    k.PERMITS: "Permits and tags",
    k.RECORDS: "Jaws and records",
    "soil-test": "Soil tests",
    "lime": "Lime",
    "seed": "Seed",
    "mow": "Mow",
    k.GEAR: "Replace gear",
    k.OWN: "Your own",
    k.JOB: "Jobs from the season",
}
REASONS = {
    k.CUT: "In winter one sees where to cut, and the ground has months to settle. Hinge a few "
    "across the path here and there; never box deer in.",
    k.SPRAY: "Regrowth takes it up once its leaves are out.",
    k.CHECK: "A limb down or a year's growth closes a trail, and nobody knows till the season.",
    k.TRIM: "Done some weeks before the opener, so that the ground rests again.",
    k.SHOTS: "Done some weeks before the opener, so that the ground rests again.",
    k.STRAPS: "Straps rot and bolts work loose while nobody looks.",
    k.TREE: "Dead limbs, rot and lean show in full leaf.",
    k.THICKET: "One section a winter, so that some cover always stands.",
    k.CAMERA: "Each look at it is a visit: pick the wind for it.",
    k.SIGNS: "Before the season, while one may still be heard.",
    k.WALK: "Last season's trails, rubs and beds are plain before green-up.",
    k.PERMITS: "Before the opener.",
    k.RECORDS: "While the season is fresh.",
    k.GEAR: "The date printed on it: past that day nobody climbs on it.",
    k.JOB: "It leaves the list when the map shows it done.",
}
CAUTIONS = {
    k.SAW: "Saw: helmet, eyes, ears, chaps and boots; never alone; others two tree lengths off. "
    "Bent stems hold tension and kick.",
    k.HINGE: "Hinge cuts: nothing over 10 inches through at chest height, it can split upward.",
    k.HERBICIDE: "Herbicide: the label is the law. Restricted products need a licence.",
    k.LADDER: "Up a tree: full-body harness, tied in from the ground; three points of contact; "
    "straps and steps looked over first.",
    k.TICKS: "Ticks: long sleeves, look yourself over after.",
    k.HEAT: "Heat: water, shade, somebody who knows where you are.",
}
NOISE = "It is heard: best with rain coming and a wind that blows to nothing held (your rule)."
STATES_SAID = {OVERDUE: "overdue", NOW: "due now", COMING: "coming", DONE: "done"}


def day_text(day: datetime.date) -> str:
    """A date as 14 Feb 2026."""
    return f"{day.day} {day:%b %Y}"


def title(chore: Chore, ground: Property) -> str:
    """What to do, and where. Args: the chore; its ground."""
    where = ground.name_of(chore.feature) if chore.feature else ""
    if chore.kind == k.JOB:
        return f"{chore.name[:1].upper()}{chore.name[1:]}"
    if chore.kind in (k.OWN, k.GEAR):
        said = chore.name if chore.kind == k.OWN else f"Replace {chore.name}"
        return f"{said} ({where})" if where else said
    if chore.kind == k.SIGNS and _is_spot(chore, ground):
        return f"See to {where}"
    return TITLES[chore.kind].format(where)


def _is_spot(chore: Chore, ground: Property) -> bool:
    return any(m.id == chore.feature and m.geometry == "Point" for m in ground.marks)


def why(chore: Chore, ground: Property, today: datetime.date) -> str:
    """Why it is on the list, in a few sentences. Args: the chore; its ground; the local date."""
    said = [own_why(chore, ground, today), REASONS.get(chore.kind, "")]
    return " ".join(part for part in said if part)


def own_why(chore: Chore, ground: Property, today: datetime.date) -> str:
    """What is to be said of this one among its kind. Args: as `why`."""
    said = [_last_said(chore)]
    if chore.missed:
        said.append("Its time in the year went by without it.")
    if chore.kind == k.THICKET:
        said.append(_section(chore, ground))
    if chore.kind == k.JOB:
        said.append(_job_said(chore, ground))
    said += [took(chore), _rest_said(chore, ground, today)]
    return " ".join(part for part in said if part)


def counted(found: list[Chore], near: int, days: int) -> str:
    """How much is to do, in a sentence. Args: chores; how many open soon; within how many days."""
    late = sum(c.state == OVERDUE for c in found)
    now = sum(c.state == NOW for c in found)
    return f"{late} overdue, {now} due now, {near} coming within {days} days."


def _last_said(chore: Chore) -> str:
    last = chore.last
    if last.future is not None and last.date is None:
        return f"Its date, {day_text(last.future)}, has not been yet: is the year right?"
    if chore.kind == k.GEAR and chore.asked:
        return f"Replaced {day_text(last.date)}: type its new date." if last.date else ""
    if chore.asked:
        return "No date of it is known: when was it last done?"
    return f"Last done {day_text(last.date)}." if last.date else ""


def _section(chore: Chore, ground: Property) -> str:
    n = next((t.sections for t in ground.work.thickets if t.feature == chore.feature), 0)
    return f"Section {chore.last.times % n + 1} of {n}." if n else ""


def _job_said(chore: Chore, ground: Property) -> str:
    job = next((j for j in ground.work.jobs if j.name == chore.name), None)
    if job is None:
        return ""
    return f"{job.cut_yd} yd to cut, gains {job.gains_sits} of {job.of_sits} sits."


def worth_text(worth: Worth, ground: Property) -> str:
    """What it costs if it grows shut, in a sentence. Args: the worth; the ground."""
    if not worth.stands:
        return "Without it no stand loses a sit."
    names = in_a_row(ground.name_of(id_) for id_ in worth.stands)
    verb = "loses" if len(worth.stands) == 1 else "together lose"
    return (
        f"Without it {worth.no_stand:.0f} of {worth.of_sits:.0f} sits of a season have no stand; "
        f"{names} {verb} {worth.stand_sits:.0f}."
    )


def _rest_said(chore: Chore, ground: Property, today: datetime.date) -> str:
    if chore.rests is None:
        return ""
    beds = " and ".join(ground.name_of(bed) for bed in chore.beside)
    first, last = (day_text(day) for day in chore.rests)
    if resting(chore, today):
        return f"No saw here until after {last}: it lies by {beds} (your rule)."
    return f"No saw here from {first} to {last}: it lies by {beds} (your rule)."


def cautions(chore: Chore, ground: Property) -> list[str]:
    """The usual cautions of a chore. Args: the chore; its ground, for its rules."""
    names = _caution_names(chore, ground)
    said = [CAUTIONS[name] for name in names]
    return [*said, NOISE] if k.SAW in names and ground.work.noise_with_rain else said


def _caution_names(chore: Chore, ground: Property) -> tuple[str, ...]:
    if chore.kind == k.JOB:
        job = next((j for j in ground.work.jobs if j.name == chore.name), None)
        climbs = job is not None and job.kind in ("stand", "move")
        return (*k.KINDS[k.CUT].cautions, *((k.LADDER,) if climbs else ()), k.TICKS)
    if chore.kind in dict(ground.work.plots):
        return k.PLOT_CAUTIONS
    return k.KINDS[chore.kind].cautions if chore.kind in k.KINDS else ()


def bring(chore: Chore) -> tuple[str, ...]:
    """What to take along. Args: the chore."""
    if chore.kind == k.CAMERA:
        return k.CAMERA_BAG
    kind = k.KINDS.get(k.CUT if chore.kind == k.JOB else chore.kind)
    return kind.bring if kind is not None else ()


def when(chore: Chore) -> str:
    """Its days in words: a window, or one day. Args: the chore."""
    if chore.printed:
        return f"by {day_text(chore.due)}"
    if chore.opens == chore.due:
        return day_text(chore.due)
    first = f"{chore.opens.day} {chore.opens:%b}"
    same_year = chore.opens.year == chore.due.year
    return f"{first if same_year else day_text(chore.opens)} to {day_text(chore.due)}"


def took(chore: Chore) -> str:
    """How long it took last time; empty where nobody wrote it down. Args: the chore."""
    minutes = chore.last.minutes
    return "" if minutes is None else f"{minutes_text(minutes)} last time."


def chore_line(
    chore: Chore, ground: Property, today: datetime.date, worth: Worth | None = None
) -> str:
    """A chore on one line. Args: it; its ground; the local date; its worth where known."""
    said = state_line(chore, ground)
    costs = worth_text(worth, ground) if worth else ""
    due = chore.state in (OVERDUE, NOW)
    packed = f"Bring: {', '.join(bring(chore))}." if due and bring(chore) else ""
    return " ".join(part for part in (said, costs, why(chore, ground, today), packed) if part)


def state_line(chore: Chore, ground: Property) -> str:
    """How a chore stands: done ones with their next time. Args: it; its ground."""
    again = "next " if chore.state == DONE else ""
    return f"{STATES_SAID[chore.state]}: {title(chore, ground)}, {again}{when(chore)}."


def care_line(found: list[Chore], ground: Property) -> list[str]:
    """The usual cautions of all that is to do, each once, on a line; none without any.

    Args: chores; their ground."""
    said = dict.fromkeys(c for one in found if one.state != DONE for c in cautions(one, ground))
    return [f"Take care. {' '.join(said)}"] if said else []


def chores_dict(
    found: list[Chore],
    ground: Property,
    today: datetime.date,
    worths: dict[str, Worth] | None = None,
) -> dict:
    """Chores as plain data. Args: they; their ground; the local date; worths where asked."""
    rows = [_plain(c, ground, today) for c in found]
    for row, chore in zip(rows, found, strict=True) if worths is not None else ():
        worth = worth_of(chore, worths or {})
        row["worth"] = worth and {
            "no_stand": round(worth.no_stand, 1),
            "stand_sits": round(worth.stand_sits, 1),
            "of_sits": round(worth.of_sits, 1),
            "stands": list(worth.stands),
        }
    return {"date": today.isoformat(), "chores": rows}


def _plain(chore: Chore, ground: Property, today: datetime.date) -> dict:
    last = chore.last
    return {
        "kind": chore.kind,
        "feature": chore.feature or None,
        "title": title(chore, ground),
        "opens": chore.opens.isoformat(),
        "due": chore.due.isoformat(),
        "state": chore.state,
        "why": why(chore, ground, today),
        "cautions": cautions(chore, ground),
        "bring": list(bring(chore)),
        "last": last.date.isoformat() if last.date else None,
        "minutes_last": last.minutes,
        "asked": chore.asked,
        "no_saw": [day.isoformat() for day in chore.rests] if chore.rests else None,
    }
