"""The page that goes along in a pocket: one HTML file without script, one printed sheet."""

import datetime
import math
import re
from pathlib import Path
from zoneinfo import ZoneInfo

from core.answer.one_sit import SitAnswer, StandSit, answer_sit, prepare_sit
from core.answer.other_winds import LIGHT, STEADY, Choice, other_winds
from core.errors import NoForecast
from core.say.cautions import cautions
from core.say.find_the_tree import finding_lines
from core.say.headline import reason_line, say, sit_line
from core.say.words import VERDICTS_SAID, clock_text
from core.show.card import Marker, air_html, head_html, hours_html, text
from core.show.map import sit_map
from core.show.palette import DARK, PRINT
from core.sit.minutes import EVENING, MORNING
from core.sit.scene import Scene
from core.sit.verdicts import CANT, CANT_CALL, CLEAN, GO, JUST_OFF, STAY, WRONG
from core.weather.hours import Hours

STYLE = Path(__file__).with_name("pocket.css").read_text(encoding="utf-8")
MOST_OTHERS, MOST_NAMED = 10, 30
MOST_PLACES = 3
LARGEST_PT, SMALLEST_PT = 8.4, 4.5
SHEET_HOLDS = 300_000.0  # letters times points squared
MEANS = {
    CLEAN: "your air reaches no bed or food that counts",
    JUST_OFF: "it comes near one, or lies on a trail before the shot",
    CANT_CALL: "nobody can say where it goes",
    WRONG: "it reaches one",
}
MARKS = """<svg width="0" height="0" aria-hidden="true"><defs>
<pattern id="hatch" width="3" height="3" patternUnits="userSpaceOnUse"
 patternTransform="rotate(45)"><path d="M0,0 V3" stroke="currentColor" stroke-width="2"/></pattern>
<symbol id="v0" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8" fill="currentColor"/></symbol>
<symbol id="v1" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8" fill="none" stroke="currentColor"
 stroke-width="2"/><path d="M10,2 A8,8 0 0 0 10,18 Z" fill="currentColor"/></symbol>
<symbol id="v2" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8" fill="url(#hatch)"
 stroke="currentColor" stroke-width="2"/></symbol>
<symbol id="v3" viewBox="0 0 20 20"><circle cx="10" cy="10" r="8" fill="none"
 stroke="currentColor" stroke-width="2"/></symbol></defs></svg>"""


def on_paper(verdict: int) -> str:
    """A verdict's mark in the page's own colour. Args: the verdict."""
    return (
        f'<svg class="mark" role="img" aria-label="{VERDICTS_SAID[verdict]}">'
        f'<use href="#v{verdict}"/></svg>'
    )


def pocket_page(
    scene: Scene,
    weather: Hours,
    date: datetime.date,
    now_s: float,
    *,
    hunter: str | None = None,
    weapon: str | None = None,
    taken: dict[str, str] | None = None,
) -> str:
    """The date's morning and evening on one page.

    Args: the scene; the weather; local date; when the page is made [epoch s]; hunter and
    weapon as in `prepare_sit`; who sits where.
    Returns: a whole HTML document; a sit that the weather does not reach is said to be
    missing. Raises: as `prepare_sit`; NoForecast where the weather reaches neither sit.
    """
    who = {"hunter": hunter, "weapon": weapon}
    answers = [_answer(scene, weather, date, sit, who, taken) for sit in (MORNING, EVENING)]
    faults = [found for found in answers if isinstance(found, NoForecast)]
    if len(faults) == len(answers):
        raise faults[0]
    whole = [found for found in answers if isinstance(found, SitAnswer)]
    winds = [other_winds(scene, date, sit, **who) for sit in (MORNING, EVENING)]
    sits = "".join(_sit_html(answer, i, now_s) for i, answer in enumerate(answers))
    title = f"{scene.ground.name}, {date.isoformat()}"
    below = f"{_winds_html(winds, scene.ground.timezone)}{_foot_html(whole[0])}"
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\">"
        f"<title>{text(title)}</title><style>{STYLE}:root{{--pt:{print_pt(sits + below):.1f}pt}}"
        f"</style></head><body>{MARKS}"
        f"<header><b>{text(scene.ground.name)}</b> <span>{date:%A} {date.day} {date:%B %Y}</span> "
        f"<small>{text(made_line(scene, weather, now_s))}</small></header>"
        f'<main class="sits">{sits}</main>{below}</body></html>'
    )


def print_pt(page: str) -> float:
    """The size of type with which a page's words fill one printed sheet. [pt]

    Args: HTML. Source: our own trials on letter paper, with a twentieth to spare; words take
    room by the square of their size.
    """
    shown = re.sub(r"<svg.*?</svg>|<[^>]*>", " ", page, flags=re.DOTALL)
    letters = len(re.sub(r"\s+", " ", shown))
    return min(LARGEST_PT, max(SMALLEST_PT, math.sqrt(SHEET_HOLDS / max(letters, 1))))


def made_line(scene: Scene, weather: Hours, now_s: float) -> str:
    """When the page was made, and from which forecast. Args: as `pocket_page`."""
    zone = ZoneInfo(scene.ground.timezone)
    made = datetime.datetime.fromtimestamp(now_s, tz=zone)
    said = f"Made {made:%a} {made.day} {made:%b} {clock_text(now_s, str(zone))}"
    if weather.kind == "typical":
        return f"{said} from a typical day, not a forecast."
    if weather.kind == "typed":
        return f"{said} for a wind that was {weather.source or 'typed'}."
    source = weather.source or weather.format
    if weather.updated_s is None:
        return f"{said} from {source}; when that was updated is not known."
    updated = datetime.datetime.fromtimestamp(weather.updated_s, tz=zone)
    return (
        f"{said} from {source}, updated {updated:%a} {updated.day} {updated:%b} "
        f"{clock_text(weather.updated_s, str(zone))}."
    )


def _answer(scene, weather, date, sit: str, who: dict, taken) -> SitAnswer | NoForecast:
    try:
        return answer_sit(prepare_sit(scene, weather, date, sit, **who), taken)
    except NoForecast as fault:
        return fault


def _sit_html(answer: SitAnswer | NoForecast, index: int, now_s: float) -> str:
    if isinstance(answer, NoForecast):
        return f"<section><h2>Not known</h2><p>{text(answer.text())}</p></section>"
    if answer.best is None:
        return "<section><h2>No stands yet</h2></section>"
    sit, own = answer.sit, answer.best
    marked: Marker = on_paper
    maps = "".join(
        f'<div class="{where}">{sit_map(sit, own, colours=colours, name=f"{where}{index}")}</div>'
        for where, colours in (("dark", DARK), ("print", PRINT))
    )
    find = " ".join(text(line) for line in finding_lines(sit, own))
    return (
        f"<section>{head_html(say(sit, own, now_s), sit_line(sit, short=True), marked, level=2)}"
        f'{hours_html(sit, own, marked)}{maps}<p class="part"><b>Find it</b> {find}</p>'
        f"{air_html(sit, own, marked, MOST_PLACES, far=False)}"
        f"{_others_html(answer)}</section>"
    )


def _others_html(answer: SitAnswer) -> str:
    """The other stands, each with its reason; those to stay out of by name alone."""
    rest = answer.stands[1:]
    told, out = [s for s in rest if s.group != STAY], [s for s in rest if s.group == STAY]
    items = "".join(
        f"<li>{on_paper(s.verdict)} <b>{text(s.stand.name)}</b> {text(_told(answer, s))}</li>"
        for s in told[:MOST_OTHERS]
    )
    left = len(told) - MOST_OTHERS
    more = f"<li>and {left} more, ranked below these</li>" if left > 0 else ""
    names = ", ".join(text(s.stand.name) for s in out[:MOST_NAMED])
    also = f" and {len(out) - MOST_NAMED} more" if len(out) > MOST_NAMED else ""
    stay = f"<li><b>Stay out of</b> {names}{also}.</li>" if out else ""
    return f'<ul class="others">{items}{more}{stay}</ul>'


def _told(answer: SitAnswer, own: StandSit) -> str:
    said = reason_line(answer.sit, own)
    return f"go, {said[0].lower()}{said[1:]}" if own.group == GO else said


def _winds_html(winds, timezone: str) -> str:
    """The tables for another wind at the truck. Args: rows of each sit; the zone."""
    heads = (
        "morning: minutes before legal light to leave the truck",
        "evening: when to leave the truck",
    )
    tables = "".join(
        _wind_table(rows, heads[i], timezone, is_morning=not i) for i, rows in enumerate(winds)
    )
    return f'<h2>If the wind at the truck is different</h2><div class="sits">{tables}</div>'


def _wind_table(rows, head: str, timezone: str, *, is_morning: bool) -> str:
    body = ""
    for point, light, steady in rows:
        cells = [f"<td>{_cell(c, timezone, is_morning)}</td>" for c in (light, steady)]
        if cells[0] == cells[1]:
            cells = [cells[0].replace("<td>", "<td colspan=2>", 1)]
        body += f"<tr><th>{text(point)}</th>{''.join(cells)}</tr>"
    return (
        f'<section><table class="winds"><caption>{head}</caption><thead><tr><th>wind</th>'
        f"<th>light, {LIGHT}</th><th>steady, {STEADY}</th></tr></thead>"
        f"<tbody>{body}</tbody></table></section>"
    )


def _cell(choice: Choice, timezone: str, is_morning: bool) -> str:
    if not choice.stand:
        return "stay out (can't call)" if choice.group == CANT else "stay out"
    said = f"{on_paper(choice.verdict or 0)} <b>{text(choice.stand)}</b> by {text(choice.lane)}"
    if is_morning and choice.minutes_before_light is not None:
        return f"{said}, {choice.minutes_before_light} min"
    if choice.leave_s is not None:
        return f"{said}, {clock_text(choice.leave_s, timezone)}"
    return said


def _foot_html(answer: SitAnswer) -> str:
    key = " ".join(
        f"{on_paper(v)} <b>{VERDICTS_SAID[v]}</b>: {means}." for v, means in MEANS.items()
    )
    phones = ", ".join(f"{p.name} {p.phone}" for p in answer.sit.scene.ground.people if p.phone)
    call = f"<p><b>Phone</b> {text(phones)}</p>" if phones else ""
    said = cautions(answer.sit, answer.best) if answer.best else []
    items = " ".join(text(line) for line in said)
    return (
        f'<footer><p class="key">{key} <b>Like N yd</b>: as strong as your air N yards straight '
        "downwind in a steady 6 mph wind; a small number is a lot of air.</p>"
        f"{call}<p>{items} Check today's legal light.</p></footer>"
    )
