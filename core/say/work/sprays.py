"""Spraying windows in words, with the cautions that always stand beside them."""

import datetime
from zoneinfo import ZoneInfo

from core.angles import point_name
from core.chores import spraying as s
from core.chores.spraying import SprayWindow
from core.ground.layout import Property
from core.ground.yearly.work_rules import Label
from core.say.work.visits import window_title
from core.units import MPS_PER_MPH
from core.weather.hours import Hours

NO_LABEL = "No hours are shown until somebody has read the label: type its limits and the day."
NONE_FOUND = "No two hours together of this forecast keep to the label's limits there."
CAUTIONS = (
    "The label is the law, and this page does not know it: it shows the limits that you typed.",
    "Measure the wind at the nozzle: in timber it is often a third of the forecast, under what "
    "the label asks.",
    "Watch smoke for an inversion: it shows on low ground first.",
    "Mind neighbours, bees and water. Restricted products need a licence.",
)
CUT_STUMP = (
    "Cut stump and basal bark: wind matters little. Treat at once after the cut; late summer to "
    "fall is often best, not in spring sap flow."
)
ENDED = {
    s.NO_WIND: "then the wind has no direction",
    s.LIGHT: "then the wind is under the label's",
    s.STRONG: "then the wind is over the label's",
    s.GUST: "then gusts are over your limit",
    s.INVERSION: "then air may lie still: an inversion",
    s.DOWNWIND: "then {} lies downwind",
    s.RAIN: "then rain comes too soon after",
    s.WET: "then leaves are wet",
    s.COLD: "then it is too cold",
    s.HOT: "then it is too hot",
    s.NOT_KNOWN: "then this forecast does not tell enough",
    s.END: "there the forecast ends",
}


def spray_lines(
    found: list[SprayWindow], ground: Property, weather: Hours, label: Label
) -> list[tuple[str, str]]:
    """Each window as its hours and what is said of them, or why there is none.

    Args: the windows; the ground; the forecast; the label's limits.
    """
    if label.read_on is None:
        return [("", NO_LABEL)]
    return [(window_title(w, ground), _said(w, ground, weather, label)) for w in found] or [
        ("", NONE_FOUND)
    ]


def _said(window: SprayWindow, ground: Property, weather: Hours, label: Label) -> str:
    hours = (window.end_s - window.start_s) // 3600
    first = window.rows[0]
    wind = point_name(float(weather.wind_from_deg[first]))
    mph = weather.speed_mps[first] / MPS_PER_MPH
    where = ground.name_of(window.place) if window.place else ""
    gust = "" if weather.gust_mps[first] == weather.gust_mps[first] else " Gusts: not told."
    return (
        f"{hours} hours, {ENDED[window.ended_by].format(where)}. Wind {wind} {mph:.0f} mph at "
        f"first.{gust} Dry for {label.rain_free_h:g} h after. Label read {label.read_on}."
    )


def spray_text(
    found: list[SprayWindow], ground: Property, weather: Hours, label: Label
) -> list[str]:
    """The windows as lines, with the cautions. Args: as `spray_lines`."""
    told = spray_lines(found, ground, weather, label)
    lines = [f"{hours}. {said}" if hours else said for hours, said in told]
    return [*lines, limits_text(label), *CAUTIONS, CUT_STUMP]


def limits_text(label: Label) -> str:
    """The limits that were used, in a sentence. Args: they."""
    return (
        f"Limits used: wind {label.wind_from_mph:g} to {label.wind_to_mph:g} mph, gusts to "
        f"{label.gust_mph:g} mph, {label.from_f:g} to {label.to_f:g} °F, dry for "
        f"{label.rain_free_h:g} h after, {label.keep_off_yd:g} yd off water, food and boundary. "
        "Are they your label's? Change them on the Work page."
    )


def spray_report(found: list[SprayWindow], ground: Property, weather: Hours, label: Label) -> dict:
    """The windows as plain data. Args: as `spray_lines`."""
    zone = ZoneInfo(ground.timezone)
    return {
        "label_read": label.read_on,
        "windows": [
            {
                "start": datetime.datetime.fromtimestamp(w.start_s, zone).isoformat(),
                "end": datetime.datetime.fromtimestamp(w.end_s, zone).isoformat(),
                "ended_by": w.ended_by,
                "place": w.place or None,
                "said": _said(w, ground, weather, label),
            }
            for w in found
        ],
        "limits": limits_text(label),
        "note": NO_LABEL if label.read_on is None else "" if found else NONE_FOUND,
        "cautions": [*CAUTIONS, CUT_STUMP],
    }
