"""Numbers to sentences: the reasons for one stand, in plain short words."""

import datetime
import math
from zoneinfo import ZoneInfo

import numpy as np

from core.angles import point_name
from core.answer import one_sit as a
from core.answer.one_sit import Sit, StandSit
from core.sit.exposure import CAUSE_WORDS, still_air
from core.sit.minutes import EVENING, SHORT_MIN
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF, STAY, WRONG
from core.sit.ways import MOST_SHOWN_YD, WayAir
from core.units import M_PER_YD, MPS_PER_MPH, SECONDS_PER_HOUR

GROUPS_SAID = ("GO", "CAN'T CALL", "STAY OUT")
MUCH_NEARER = 0.8  # a later hour this much nearer than the first is told too
VERDICTS_SAID = ("clean", "just-off", "can't call", "wrong wind")
CAUSES_SAID = {
    "calm": "no wind",
    "variable": "light wind from no one direction",
    "missing": "no wind given for this hour",
    "light": "too light to hold a direction",
    "swirls": "you marked that this seat swirls in this wind",
    "bottom": "a bottom pools air in light or settled air",
    "turning": "the slope air is turning",
}


def clock_text(time_s: float, timezone: str) -> str:
    """A local clock time, as 5:29 am."""
    at = datetime.datetime.fromtimestamp(round(time_s), tz=ZoneInfo(timezone))
    return f"{at.hour % 12 or 12}:{at.minute:02d} {'am' if at.hour < 12 else 'pm'}"


def like_text(distance_yd: float) -> str:
    """How far a strength is like: whole tens of yards, or the two ends."""
    if math.isnan(distance_yd):
        return "not known"
    if distance_yd < 10:
        return "under 10 yd"
    if distance_yd > MOST_SHOWN_YD:
        return "over 2 miles"
    step = 1 if distance_yd < 100 else 10
    return f"{int(distance_yd / step + 0.5) * step} yd"


def wind_text(sit: Sit, case: int | None = None) -> str:
    """The wind of the window, or of one of its rows, as NW 8 mph."""
    weather = sit.rows.weather.take(np.arange(len(sit.rows.start_s))[sit.window])
    if case is not None:
        return wind_words(
            float(weather.wind_from_deg[case]),
            float(weather.speed_mps[case]),
            int(weather.state[case]),
        )
    mean, speed = sit.mean_wind_deg, weather.speed_mps
    if np.isnan(speed).all():
        return "no wind in this forecast"
    low, high = float(np.nanmin(speed)) / MPS_PER_MPH, float(np.nanmax(speed)) / MPS_PER_MPH
    held = sit.weather.held
    if held:
        low = float(weather.speed_low_mps[0]) / MPS_PER_MPH
        high = float(weather.speed_high_mps[0]) / MPS_PER_MPH
    spread = f"{low:.0f}" if round(low) == round(high) else f"{low:.0f} to {high:.0f}"
    if math.isnan(mean):
        return "calm" if (speed[~np.isnan(speed)] == 0).all() else f"variable, {spread} mph"
    return f"{point_name(mean)} {spread} mph"


def wind_words(wind_from_deg: float, speed_mps: float, state: int) -> str:
    """One hour's wind in words."""
    if state == 3 or math.isnan(speed_mps):
        return "no wind given"
    if state == 1:
        return "calm"
    mph = f"{speed_mps / MPS_PER_MPH:.0f} mph"
    return f"variable {mph}" if math.isnan(wind_from_deg) else f"{point_name(wind_from_deg)} {mph}"


def zone_name(sit: Sit, own: StandSit, zone: int) -> str:
    """Name of one of the zones of a stand's hours: areas, then trails in range."""
    areas = sit.scene.areas
    trails = own.hours.corridors
    return sit.scene.ground.name_of(
        areas[zone].id if zone < len(areas) else trails[zone - len(areas)]
    )


def reasons(sit: Sit, own: StandSit) -> list[str]:
    """Why this stand stands where it does, most telling first."""
    said = _out_reasons(own)
    said += _hour_reasons(sit, own)
    if a.AIR_SHARE in own.causes:
        said.append("The air is good for less than half of this sit.")
    said += _trail_reasons(sit, own)
    said += _way_reasons(sit, own)
    said += _clock_reasons(sit, own)
    if not said:
        said = ["Your air reaches no bed or food that counts."]
    said += _shared_reasons(sit)
    return list(dict.fromkeys(said))


def _out_reasons(own: StandSit) -> list[str]:
    said = {
        a.OUT_OF_SEASON: "Outside every season of this property.",
        a.NO_MINUTES: "Closed hours leave no minute of this sit.",
        a.IS_CLOSED: "You marked this stand closed.",
        a.NOT_NOW: "You marked this stand not-now.",
        a.IS_TAKEN: f"{own.taken_by} sits here.",
        a.GUST: f"Wind or gusts over this seat's limit of {own.stand.max_gust_mph or 0:.0f} mph.",
        a.STRONG: "Wind of 31 mph or more: not from a raised seat.",
        a.STORM: "Wind or gusts of 64 mph or more: trees come down. Not from any seat.",
        a.NO_WAY: "No way in drawn.",
    }
    return [said[c] for c in own.causes if c in said]


def _hour_reasons(sit: Sit, own: StandSit) -> list[str]:
    """The first hour of each kind that is not clean, with the place that makes it so."""
    said, zone, hours = [], sit.scene.ground.timezone, own.hours
    for verdict in (WRONG, CANT_CALL, JUST_OFF):
        cases = np.flatnonzero((hours.verdict == verdict) & (sit.clock.minutes > 0))
        if not len(cases):
            continue
        case = int(cases[0])
        at = clock_text(_shown_start(sit, case), zone)
        if verdict == CANT_CALL:
            cause = CAUSES_SAID[CAUSE_WORDS[int(hours.cause[case])]]
            all_hours = len(hours.verdict)
            span = "" if len(cases) == all_hours else f" in {len(cases)} of {all_hours} hours"
            said.append(f"Can't call from {at}{span}: {cause}.")
            said += _still_reason(sit, own, case)
            continue
        zone_id = _worst_zone(sit, own, case, verdict)
        if zone_id is not None:
            place = _reached_text(sit, own, case, zone_id)
            short = "" if sit.clock.minutes[case] >= SHORT_MIN else " (a short hour, not counted)"
            worse = _worse_later(sit, own, cases, verdict)
            said.append(
                f"From {at} your air reaches {place}{worse} ({VERDICTS_SAID[verdict]}){short}."
            )
    return said


def _shown_start(sit: Sit, case: int) -> float:
    start = int(sit.clock.row_start_s[case])
    return max(start, sit.clock.start_s or start)


def _reached_text(sit: Sit, own: StandSit, case: int, zone: int) -> str:
    like = like_text(float(own.hours.equivalent_yd[case, zone]))
    return f"{zone_name(sit, own, zone)}, like {like}"


def _worst_zone(sit: Sit, own: StandSit, case: int, verdict: int) -> int | None:
    hours, n_areas = own.hours, len(sit.scene.areas)
    hit = hours.counts[case] & (hours.zone_verdict[case] == verdict)
    if verdict == WRONG:
        hit[n_areas:] = False  # a trail in wrong air makes an hour just-off, not wrong
    if verdict == JUST_OFF and not hit[:n_areas].any():
        hit = hours.counts[case] & (hours.zone_verdict[case] == WRONG)
    zones = np.flatnonzero(hit)
    return int(zones[np.argmin(hours.equivalent_yd[case, zones])]) if len(zones) else None


def _worse_later(sit: Sit, own: StandSit, cases, verdict: int) -> str:
    """A later hour in which the air is much stronger than in the first one told."""
    first, *later = (
        (float(own.hours.equivalent_yd[case, zone]), int(case), zone)
        for case in cases
        if (zone := _worst_zone(sit, own, int(case), verdict)) is not None
    )
    if not later or min(later)[0] > MUCH_NEARER * first[0]:
        return ""
    _, case, zone = min(later)
    told = _reached_text(sit, own, case, zone)
    if zone == first[2]:
        told = told.removeprefix(f"{zone_name(sit, own, zone)}, ")
    return f", at {clock_text(_shown_start(sit, case), sit.scene.ground.timezone)} {told}"


def _still_reason(sit: Sit, own: StandSit, case: int) -> list[str]:
    """Where still air would go, where a slope is known."""
    still = int(own.hours.still[case])
    if still < 0:
        return []
    to, _ = still_air(sit.rows, own.stand, own.slope)
    towards = point_name(float(to[own.hours.air.row[case]]))
    return [f"Likely: still air moves toward {towards} here, {VERDICTS_SAID[still]}."]


def _trail_reasons(sit: Sit, own: StandSit) -> list[str]:
    """Trails whose part before the shot lies in wrong air."""
    hours, n = own.hours, len(sit.scene.areas)
    said = [watch_text(sit, own)] if nothing_in_range(sit, own) else []
    for i, name in enumerate(hours.corridors):
        if (hours.zone_verdict[:, n + i] == WRONG).any():
            said.append(
                f"Your air lies on {sit.scene.ground.name_of(name)} before the shot: just-off."
            )
    return said


def nothing_in_range(sit: Sit, own: StandSit) -> bool:
    """Whether no day trail and no food lies within range of a seat."""
    return not own.corridors and not sit.scene.food_in_range(own.stand, own.range_yd)


def watch_text(sit: Sit, own: StandSit) -> str:
    """What a seat without a trail or food in range is for; empty where one is in range."""
    if not nothing_in_range(sit, own):
        return ""
    return f"No trail or food within {own.range_yd:.0f} yd: a seat to watch from."


def _way_reasons(sit: Sit, own: StandSit) -> list[str]:
    said = []
    if own.way_in is not None:
        if own.way_in.verdict[0] != CLEAN:
            said.append(way_text(sit, own.way_in, "The way in"))
        if own.way_in.way.crosses:
            names = _names(sit, own.way_in.way.crosses)
            where = " before the shot" if own.way_in.crossed_before_shot else ""
            said.append(f"The way in crosses {names}{where}.")
    if own.way_out is None:
        said.append("No way out drawn.")
    elif own.way_out.verdict[0] == WRONG:
        said.append(way_text(sit, own.way_out, "The way out"))
    return said


def _names(sit: Sit, ids) -> str:
    return ", ".join(sit.scene.ground.name_of(x) for x in sorted(ids))


def way_text(sit: Sit, air: WayAir, head: str) -> str:
    """One sentence on a walk's air."""
    verdict = int(air.verdict[0])
    lane = air.way.lane.name or air.way.lane.id
    if verdict == CANT_CALL:
        return f"{head}, {lane}: can't call, too little wind on the walk."
    like = like_text(float(air.equivalent_yd[0]))
    area = int(air.worst_area[0])
    reached = ""
    if area >= 0 and float(air.equivalent_yd[0]) <= MOST_SHOWN_YD:
        reached = f": {sit.scene.ground.name_of(sit.scene.areas[area].id)} like {like}"
    return f"{head}, {lane}, is {VERDICTS_SAID[verdict]}{reached}."


def _clock_reasons(sit: Sit, own: StandSit) -> list[str]:
    zone, said = sit.scene.ground.timezone, []
    if own.leave_by_s is not None:
        said.append(f"Be down by {clock_text(own.leave_by_s, zone)}.")
    if own.not_before_s is not None:
        said.append(f"Not before {clock_text(own.not_before_s, zone)}.")
    if bool(own.judged.left_out[0]) and own.leave_by_s is not None:
        said.append("This all-day sit ends at that time, before last light.")
    if own.way_in is not None and own.group != STAY:
        said += _arriving_reasons(sit, own)
    return said


def _arriving_reasons(sit: Sit, own: StandSit) -> list[str]:
    """Settling is not judged, but said where the hour it falls in is wrong."""
    if own.not_before_s is None or sit.clock.sit != EVENING:
        return []
    row = int(own.judged.last_wrong[0])
    end = int(sit.clock.row_start_s[row]) + SECONDS_PER_HOUR
    if own.stand.set_up_min and end <= own.not_before_s:
        return []
    return ["You settle in right after a wrong hour."]


def _shared_reasons(sit: Sit) -> list[str]:
    """What holds for every stand of the sit."""
    zone, clock, said = sit.scene.ground.timezone, sit.clock, []
    short = [i for i, m in enumerate(clock.minutes) if 0 < m < SHORT_MIN]
    for i in short:
        at = clock_text(_shown_start(sit, i), zone)
        said.append(f"The {int(clock.minutes[i])} minutes from {at} decide nothing.")
    for start, end in clock.left_pieces:
        said.append(
            f"Not judged, parted off by closed hours: {clock_text(start, zone)} to "
            f"{clock_text(end, zone)}."
        )
    weather = sit.rows.weather
    if np.isnan(weather.cloud_frac[sit.window]).any() and len(clock.minutes):
        said.append("No cloud given: counted as half by day and clear at night; try overcast.")
    said.append("No log yet: every stand counts as rested.")
    return said


def place_text(distance_m: float) -> str:
    """A true distance in whole yards."""
    return f"{int(distance_m / M_PER_YD + 0.5)} yd"
