"""Eight situations to print, the answers on a second page. One HTML page, no script.

Every word that a user wrote is escaped here.
"""

import datetime
import html

from core.learn.classroom import date_text
from core.learn.pick_one import Pick, best_of, judge_pick
from core.learn.second_hunter import other_hunter_line
from core.learn.situations import Situation, draw_situation
from core.learn.turn_the_wind import turn_sentence
from core.say.words import VERDICTS_SAID, clock_text, wind_words
from core.show.map import Brought, property_map
from core.show.palette import PRINT
from core.sit.scene import Scene
from core.sit.verdicts import GO

HOW_MANY = 8
STYLE = """
@page { size: letter; margin: 12mm; }
body { font: 9.5pt/1.3 Verdana, Helvetica, Arial, sans-serif; color: #111; background: #fff;
  max-width: 190mm; margin: 4mm auto; }
h1 { font-size: 15pt; margin: 0 0 1mm; } h2 { font-size: 11pt; margin: 3mm 0 1mm; }
p { margin: 0 0 1.5mm; } .small { font-size: 8.5pt; }
ol { columns: 2; column-gap: 8mm; padding-left: 5mm; margin: 0; }
li { break-inside: avoid; margin-bottom: 2mm; }
.map { width: 88mm; margin: 1mm auto 3mm; } .map svg { width: 100%; height: auto; }
.answers { break-before: page; }
.line { border-bottom: 1px solid #777; display: inline-block; min-width: 38mm; }
"""


def lesson_sheet(scene: Scene, year: int, seed: int, printed: datetime.date) -> str:
    """The sheet of eight situations from a seed on.

    Args: the scene; the year whose days are drawn; the first seed; the day of printing.
    Returns: a whole HTML page. Raises: as `draw_situation`.
    """
    found = [draw_situation(scene, year, seed + i) for i in range(HOW_MANY)]
    name = html.escape(scene.ground.name)
    head = (
        f'<p class="small">{name}, printed {date_text(printed)} {printed.year}, sheet {seed}. '
        "Winds of a typical year at Greensboro, not a forecast. Check today's legal light. "
        "Local rules come first.</p>"
    )
    asked = "".join(f"<li>{_question(s)}</li>" for s in found)
    told = "".join(f"<li>{_answer(s)}</li>" for s in found)
    picture = property_map(scene, Brought(whole=True), colours=PRINT, name="sheet")
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">'
        f"<title>{name}: pick one</title><style>{STYLE}</style></head><body>"
        f"<main><section><h1>Pick one: eight sits on {name}</h1>{head}"
        f'<div class="map">{picture}</div>'
        "<p>For each: go or stay out? Which stand? Which way in? What would go wrong at your "
        f"second choice?</p><ol>{asked}</ol></section>"
        f'<section class="answers"><h1>Answers</h1>{head}<ol>{told}</ol></section></main>'
        "</body></html>"
    )


def _question(found: Situation) -> str:
    clock = found.ready.clock
    zone = found.ready.scene.ground.timezone
    light = f"{clock_text(clock.legal_start_s, zone)} to {clock_text(clock.legal_end_s, zone)}"
    text = (
        f"{date_text(found.date)}, {found.sit}. Legal light {light}. {winds_line(found)} "
        f"{other_hunter_line(found)}"
    ).strip()
    return (
        f"<p>{html.escape(text)}</p>"
        '<p class="small">Go / stay out. Stand <span class="line"></span><br>'
        'Way in <span class="line"></span></p>'
    )


def winds_line(found: Situation) -> str:
    """The winds of the window, hour by hour, equal ones together."""
    sit = found.ready
    weather, zone = sit.rows.weather, sit.scene.ground.timezone
    said: list[tuple[str, str]] = []
    for i, row in enumerate(range(sit.window.start, sit.window.stop)):
        start = max(int(sit.clock.row_start_s[i]), sit.clock.start_s or 0)
        wind = wind_words(
            float(weather.wind_from_deg[row]),
            float(weather.speed_mps[row]),
            int(weather.state[row]),
        )
        if not said or said[-1][1] != wind:
            said.append((clock_text(start, zone), wind))
    return "Wind: " + "; ".join(f"{at} {wind}" for at, wind in said) + "."


def _answer(found: Situation) -> str:
    best = best_of(found)
    go = [s for s in found.answer.stands if s.group == GO]
    if best is None:
        lines = [judge_pick(found, Pick(None)).headline]
        lines += judge_pick(found, Pick(None)).lines
    else:
        way = f" by {best.way_in.way.lane.name}" if best.way_in is not None else ""
        lines = [f"Go: {best.stand.name} ({VERDICTS_SAID[best.verdict]}){way}."]
        lines.append(turn_sentence(found.ready, best))
        others = [s.stand.name for s in go if s.stand.id != best.stand.id]
        if others:
            lines.append(f"Also go: {', '.join(others)}.")
        out = next((s for s in found.answer.stands if s.group != GO), None)
        if out is not None:
            lines.append(f"Not {out.stand.name}: {turn_sentence(found.ready, out)}")
    return "".join(f"<p>{html.escape(line)}</p>" for line in lines)
