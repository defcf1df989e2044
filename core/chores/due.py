"""What is to be done on a ground, and when: a plain list from the ground, its log and a date."""

import datetime
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from core.chores import kinds as k
from core.chores.beside import beside_beds
from core.chores.jobs import jobs_to_do
from core.chores.last_done import Done, LastDone, all_done, last_done
from core.chores.windows import DAY, Span, Turn, saw_rest, turn, window_here
from core.ground.layout import Property
from core.ground.yearly.work_rules import OwnChore
from core.keep.entries import Entry

OVERDUE, NOW, COMING, DONE = "overdue", "now", "coming", "done"
STATES = (OVERDUE, NOW, COMING, DONE)
ONCE_OPENS_DAYS, INTERVAL_OPENS_DAYS = 14, 7  # before they are due


@dataclass(frozen=True, slots=True)
class Chore:
    """One thing to do.

    `feature` is an id, empty for the ground as a whole; `name` that of gear, of a job, or of
    a chore of the owner's own. Done: `opens` and `due` are those of the next time. `last` is
    when it was done, as far as anybody knows. `rests` are the days on which no saw runs
    here, where one of them comes before the window ends. `printed`: due by a printed date.
    """

    kind: str
    feature: str
    opens: datetime.date
    due: datetime.date
    state: str
    last: LastDone = field(default_factory=LastDone)
    name: str = ""
    missed: bool = False
    asked: bool = False  # nobody knows when it was last done
    beside: tuple[str, ...] = ()  # ids of beds
    rests: Span | None = None
    printed: bool = False

    @property
    def key(self) -> str:
        """What stays the same of it from year to year."""
        return ":".join(part for part in (self.kind, self.feature, self.name) if part)


def new_of(name: str) -> str:
    """How the log calls it when gear is replaced. Args: its name."""
    return f"new {name}"


def noted_as(chore: Chore) -> str:
    """How the log and the ground's own dates call a chore. Args: it."""
    if chore.kind == k.GEAR:
        return new_of(chore.name)
    return chore.name if chore.kind in (k.OWN, k.JOB) else chore.kind


def chores(ground: Property, entries: Iterable[Entry], today: datetime.date) -> list[Chore]:
    """All chores of a ground, the most pressing first.

    Args: the ground; entries of its log; the local date. Returns: one for each thing to do;
    what is done is in the list too, with its next time. Those that the owner has left out
    are not.
    """
    done = all_done(ground, entries)
    found = [
        *_by_kind(ground, done, today),
        *_cameras(ground, done, today),
        *_plots(ground, done, today),
        *_gear(ground, done, today),
        *_own(ground, done, today),
        *_jobs(ground, done, today),
    ]
    left_out = set(ground.work.left_out)
    found = [c for c in found if c.key not in left_out and c.kind not in left_out]
    return sorted(_resting(ground, found, today), key=order)


def order(chore: Chore) -> tuple:
    """Overdue, now, coming, done; in each the one that is due first."""
    return STATES.index(chore.state), chore.due, chore.kind, chore.name, chore.feature


def _state(opens: datetime.date, due: datetime.date, last: LastDone, ground, today) -> str:
    if due < today:
        return OVERDUE
    if opens <= today:
        return NOW
    far = (opens - today).days > ground.work.coming_days
    return DONE if far and last.date is not None else COMING


def _chore(
    ground: Property, today, kind: str, feature: str, when: Turn | Span, last: LastDone, **more
):
    opens, due = (when.opens, when.due) if isinstance(when, Turn) else when
    state = _state(opens, due, last, ground, today)
    missed = isinstance(when, Turn) and when.missed
    more = {"asked": last.date is None, **more}
    return Chore(kind, feature, opens, due, state, last, missed=missed, **more)


def _by_kind(ground: Property, done: Done, today: datetime.date) -> list[Chore]:
    found = []
    for kind in k.KINDS.values():
        windows, every = kind.windows(ground), kind.every(ground)
        for feature in kind.features(ground):
            last = last_done(done, kind.name, feature, today)
            when = turn(windows, last.date, every, today)
            found.append(_chore(ground, today, kind.name, feature, when, last))
    return found


def _after_days(last: LastDone, days: int, today: datetime.date) -> Span:
    """Every so many days; due now where nobody knows of a last time."""
    if last.date is None:
        return today, today
    due = last.date + days * DAY
    return max(last.date + DAY, due - INTERVAL_OPENS_DAYS * DAY), due


def _cameras(ground: Property, done: Done, today: datetime.date) -> list[Chore]:
    found = []
    for mark in ground.marks:
        if mark.kind == "camera":
            last = last_done(done, k.CAMERA, mark.id, today)
            when = _after_days(last, ground.work.camera_days, today)
            found.append(_chore(ground, today, k.CAMERA, mark.id, when, last))
    return found


def _plots(ground: Property, done: Done, today: datetime.date) -> list[Chore]:
    found = []
    for job, days in ground.work.plots:
        windows = window_here(ground, days, days)
        for area in ground.areas:
            if area.kind == "food":
                last = last_done(done, job, area.id, today)
                when = turn(windows, last.date, 1, today)
                found.append(_chore(ground, today, job, area.id, when, last))
    return found


def _gear(ground: Property, done: Done, today: datetime.date) -> list[Chore]:
    found = []
    for gear in ground.work.gear:
        by = datetime.date.fromisoformat(gear.replace_by)
        last = last_done(done, new_of(gear.name), gear.feature or "", today)
        chore = _chore(
            ground,
            today,
            k.GEAR,
            gear.feature or "",
            (by - ground.work.gear_days * DAY, by),
            last,
            name=gear.name,
            printed=True,
            asked=False,
        )
        if last.date is not None and last.date >= chore.opens:  # and its new date not yet typed
            chore = replace(chore, state=DONE, asked=True)
        found.append(chore)
    return found


def _own(ground: Property, done: Done, today: datetime.date) -> list[Chore]:
    found = []
    for own in ground.work.own:
        last = last_done(done, own.name, own.feature or "", today)
        more = {"name": own.name, "asked": False}
        when = _own_time(ground, own, last, today)
        chore = _chore(ground, today, k.OWN, own.feature or "", when, last, **more)
        if own.on and last.date is not None:
            chore = replace(chore, state=DONE)
        found.append(chore)
    return found


def _jobs(ground: Property, done: Done, today: datetime.date) -> list[Chore]:
    """Jobs of the season review that the map does not show done; winter work."""
    found = []
    for job in jobs_to_do(ground):
        last = last_done(done, job.name, job.stand or "", today)
        when = turn(k.winter(ground), None, 1, today)
        more = {"name": job.name, "asked": False}
        chore = _chore(ground, today, k.JOB, job.stand or "", when, last, **more)
        found.append(replace(chore, state=DONE) if last.date is not None else chore)
    return found


def _own_time(ground: Property, own: OwnChore, last: LastDone, today) -> Turn | Span:
    if own.on:
        on = datetime.date.fromisoformat(own.on)
        return on - ONCE_OPENS_DAYS * DAY, on
    if own.each_year:
        return turn(window_here(ground, own.each_year, own.each_year), last.date, 1, today)
    return _after_days(last, own.every_days or 1, today)


def _resting(ground: Property, found: list[Chore], today: datetime.date) -> list[Chore]:
    """Chores with the days on which no saw runs in or beside their bed."""
    rest = saw_rest(ground, today)
    if rest is None:
        return found
    near = beside_beds(ground)
    told = []
    for chore in found:
        kind = k.KINDS.get(chore.kind)
        beds = near.get(chore.feature, ()) if kind is not None and kind.saw else ()
        touched = rest[0] <= max(chore.due, today) and chore.opens <= rest[1]
        told.append(replace(chore, beside=beds, rests=rest if touched else None) if beds else chore)
    return told


def resting(chore: Chore, today: datetime.date) -> bool:
    """Whether no saw runs at a chore on a day. Args: the chore; the day."""
    return chore.rests is not None and chore.rests[0] <= today <= chore.rests[1]
