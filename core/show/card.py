"""Parts of the answer as HTML, for the home screen and for pages to print or carry.

No scripts, nothing from outside; every word a user can write is escaped. The looks
are classes: the screen's style sheet and the pocket page each dress them.
"""

import base64
import functools
import html
from collections.abc import Callable

import numpy as np

from core.angles import point_name
from core.answer.one_sit import Sit, StandSit, zone_order
from core.say.as_json import worst_case
from core.say.headline import Said
from core.say.words import VERDICTS_SAID, clock_text, like_text, place_text
from core.show.marks import mark_image
from core.show.palette import DARK, Palette
from core.sit.place import relation
from core.sit.verdicts import CLEAN, GO
from core.sit.ways import MOST_SHOWN_YD

MOST_FAR = 12  # places named that hardly any air reaches; the rest are counted
HARDLY = "hardly any"
MUCH_THE_SAME = 1.25  # hours within this factor of the worst are not told apart
KIND_SAID = {"bedding": "bed", "food": "food", "corridor": "trail", "lane": "lane"}


def text(words: str) -> str:
    """Words made harmless for HTML. Args: any text."""
    return html.escape(words)


def mark_html(verdict: int, colours: Palette, size: float = 18) -> str:
    """A verdict's mark as an image with its word. Args: verdict, colours, size [px]."""
    drawn = base64.b64encode(mark_image(verdict, colours, size).encode()).decode()
    word = VERDICTS_SAID[verdict]
    return (
        f'<img class="mark" alt="{text(word)}" width="{size:.0f}" height="{size:.0f}" '
        f'src="data:image/svg+xml;base64,{drawn}">'
    )


Marker = Callable[[int], str]  # a verdict's mark as HTML
on_screen: Marker = functools.partial(mark_html, colours=DARK)


def head_html(said: Said, place: str, marked: Marker = on_screen, level: int = 1) -> str:
    """The head of an answer: group, stand, times, way in, wind, what goes wrong.

    Args: the head's words; a line above (property and sit); what draws its mark; the
    level of its heading.
    """
    boxes = "".join(
        f'<div><span class="clock">{text(clock)}</span><span>{text(what)}</span></div>'
        for clock, what in said.times
    )
    note = f'<p class="note">{text(said.note)}</p>' if said.note else ""
    mark = marked(said.verdict)
    heading = f"<h{level}>{mark} {text(said.heading)}</h{level}>"
    if said.group == GO:
        heading = (
            f'<p class="group">{mark} {text(said.title)} · {text(VERDICTS_SAID[said.verdict])}</p>'
            f"<h{level}>{text(said.heading)}</h{level}>"
        )
    return (
        f'<div class="head"><p class="place">{text(place)}</p>{heading}'
        f'<p class="summary">{text(said.summary)}</p>'
        f'<div class="times">{boxes}</div>{note}'
        f'<p class="part"><b>Way in</b> {text(said.way_in)}</p>'
        f'<p class="part"><b>Wind</b> {text(said.wind)}</p>'
        f'<p class="trouble">{text(said.trouble)} {text(said.spare)}</p></div>'
    )


def hours_html(sit: Sit, own: StandSit, marked: Marker = on_screen) -> str:
    """The hours of the sit in a row: mark, clock, wind.

    Args: the sit; the stand in it; what draws its marks.
    """
    zone, weather, cells = sit.scene.ground.timezone, sit.rows.weather, []
    for i, row in enumerate(own.hours.air.row):
        start = max(int(sit.rows.start_s[row]), sit.clock.start_s or 0)
        wind = float(weather.wind_from_deg[row])
        point = "–" if np.isnan(wind) else point_name(wind)
        word = VERDICTS_SAID[int(own.hours.verdict[i])]
        clock = clock_text(start, zone).removesuffix(" am").removesuffix(" pm")
        cells.append(
            f"<li>{marked(int(own.hours.verdict[i]))}<b>{text(clock)}</b>"
            f"<span>{text(point)}</span><span>{text(word)}</span></li>"
        )
    return f'<ol class="hours">{"".join(cells)}</ol>' if cells else ""


def air_rows(sit: Sit, own: StandSit) -> list[tuple[int, str, str, str]]:
    """Where the air goes, place by place, the most reached first.

    Args: the sit; the stand in it.
    Returns: verdict, name and kind, relation and distance, "like N yards" with the hour
    where the hours differ. Places that count in no hour of the sit are left out.
    """
    places = sit.scene.places(own.stand)
    found = []
    for i, name in enumerate(zone_order(sit, own)):
        case = worst_case(own, i)
        if case is None:
            continue
        place, like = places[name], float(own.hours.equivalent_yd[case, i])
        wind = float(own.hours.air.wind_from_deg[case])
        where = relation(wind, place) or "around you"
        where = "" if where == "none" else f"{where}, "
        kind = KIND_SAID[place.kind]
        label = sit.scene.ground.name_of(name)
        told = (
            "not known"
            if np.isnan(like)
            else (
                HARDLY
                if like > MOST_SHOWN_YD
                else f"like {like_text(like)}{_when(sit, own, case, i)}"
            )
        )
        verdict = int(own.hours.zone_verdict[case, i])
        label = label if label.casefold().endswith(kind) else f"{label}, {kind}"
        row = (
            verdict,
            label,
            f"{where}{place_text(place.distance_m)}".replace(" yd", "\N{NO-BREAK SPACE}yd"),
            told,
        )
        found.append((-verdict, np.inf if np.isnan(like) else like, row))
    return [row for _, _, row in sorted(found)]


def _when(sit: Sit, own: StandSit, case: int, zone: int) -> str:
    """The hour in which a place is worst, where the hours differ."""
    hours = own.hours
    like = np.where(hours.counts[:, zone], hours.equivalent_yd[:, zone], np.inf)
    if (like <= like[case] * MUCH_THE_SAME).all():
        return ""
    start = max(int(sit.rows.start_s[hours.air.row[case]]), sit.clock.start_s or 0)
    clock = clock_text(start, sit.scene.ground.timezone)
    return f", {clock}".replace(f" {clock[-2:]}", f"\N{NO-BREAK SPACE}{clock[-2:]}")


def air_html(
    sit: Sit, own: StandSit, marked: Marker = on_screen, most: int = 0, *, far: bool = True
) -> str:
    """The table of where the air goes.

    Args: as `air_rows`; what draws its marks; rows at most, 0 for all; whether the places
    that hardly any air reaches are named.
    """
    rows = air_rows(sit, own)
    if not rows:
        return "<p>Nothing that counts lies round this stand.</p>"
    near = [row for row in rows if row[3] != HARDLY]
    body = "".join(
        f"<tr><td>{marked(v)} {text(name)}</td><td>{text(where)}</td><td>{text(told)}</td></tr>"
        for v, name, where, told in (near[:most] if most else near)
    )
    table = (
        '<div class="wide"><table class="air"><thead><tr><th>place</th><th>lies</th>'
        "<th>your air, at its worst</th></tr></thead>"
        f"<tbody>{body}</tbody></table></div>"
    )
    beyond = [f"{text(name)} ({text(where)})" for _, name, where, told in rows if told == HARDLY]
    left = len(beyond) - MOST_FAR
    rest = "; ".join(beyond[:MOST_FAR]) + (f"; and {left} more" if left > 0 else "")
    clean = f'<p class="far">{marked(CLEAN)} Hardly any reaches: {rest}.</p>' if rest else ""
    if not far:
        clean = "" if near else f"<p>{marked(CLEAN)} Hardly any reaches a place that counts.</p>"
    return (table if near else "") + clean
