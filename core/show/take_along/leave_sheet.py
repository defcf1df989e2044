"""The sheet to leave with someone: where everybody is, when back, and what to do if not."""

import datetime
import math
from collections.abc import Sequence
from zoneinfo import ZoneInfo

from core.answer.one_sit import StandSit
from core.say.find_the_tree import finding_lines
from core.say.headline import sit_line, truck_name
from core.say.hunters.orange import orange_text
from core.say.words import at_time, clock_text
from core.show.template import filled
from core.sit.prepare import Sit
from core.units import SECONDS_PER_MINUTE

Going = tuple[str, Sit, StandSit]  # a name, or empty; the sit; the stand in it
MOST_FINDING = 3  # of more hunters nobody reads how each tree is found
LARGEST_PT = 10.5
PAGE_HOLDS = 260_000.0  # letters times points squared, the lines to fill in counted
REST_LETTERS = 1500
LATE_MIN = 60  # after the time back, when somebody is to act; common practice, no source


def leave_sheet(going: Sequence[Going], now_s: float) -> str:
    """The sheet as a whole HTML document of one page, without script.

    Args: everybody who is out, one at least; when it is made [epoch s].
    Missing: what the program does not know (phones, plates, the road) is a line to fill in.
    """
    _, sit, _ = going[0]
    ground, timezone = sit.scene.ground, sit.timezone
    back_s = [s for s in (back_at_truck_s(one, own) for _, one, own in going) if s is not None]
    made = datetime.datetime.fromtimestamp(now_s, tz=ZoneInfo(timezone))
    phones = {p.name: p.phone for p in ground.people if p.phone}
    hunters = [_hunter(one, phones) for one in going]
    return filled(
        "leave_sheet.html",
        title=sit_line(sit),
        name=ground.name,
        hunters=hunters,
        finding=len(hunters) <= MOST_FINDING,
        type_pt=f"{_print_pt(hunters):.1f}",
        late=clock_text(max(back_s) + LATE_MIN * SECONDS_PER_MINUTE, timezone) if back_s else "",
        orange=orange_text(sit),
        place=_place(*ground.center),
        made=f"{made:%a} {made.day} {made:%b} {clock_text(now_s, timezone)}",
    )


def _print_pt(hunters: list[dict]) -> float:
    """The size of type with which everybody's lines fill one printed page. [pt]

    Source: our own trials on letter and A4 paper; words take room by the square of their size.
    """
    left_out = () if len(hunters) <= MOST_FINDING else ("finding",)
    letters = sum(len(str(v)) for one in hunters for k, v in one.items() if k not in left_out)
    return min(LARGEST_PT, math.sqrt(PAGE_HOLDS / (REST_LETTERS + letters)))


def _hunter(going: Going, phones: dict[str, str]) -> dict:
    name, sit, own = going
    back_s, ways = back_at_truck_s(sit, own), []
    for word, walk in (("in", own.way_in), ("out", own.way_out)):
        if walk is not None:
            ways.append(f"{word}: {walk.way.lane.name or walk.way.lane.id}")
    return {
        "name": name,
        "phone": phones.get(name, ""),
        "weapon": sit.clock.season.weapon if sit.clock.season else "",
        "stand": own.stand.name,
        "place": _place(*own.stand.at),
        "finding": finding_lines(sit, own),
        "ways": ways,
        "truck": truck_name(sit, own),
        "leaves": "" if own.leave_truck_s is None else at_time(sit, own.leave_truck_s),
        "back": "" if back_s is None else at_time(sit, back_s),
    }


def back_at_truck_s(sit: Sit, own: StandSit) -> float | None:
    """When a hunter is at the truck again by the plan. [epoch s] Args: the sit; the stand.

    Returns: None without a way out, or where the sit has no minute.
    """
    walk = own.way_out
    if walk is None or sit.clock.end_s is None:
        return None
    return float(walk.start_s) + walk.way.minutes * SECONDS_PER_MINUTE


def _place(lon: float, lat: float) -> str:
    return f"{lat:.5f}, {lon:.5f}"
