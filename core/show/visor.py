"""The sheet on the sun visor: one printed page for the season, without power or signal."""

import datetime
from zoneinfo import ZoneInfo

from core.show.card import text
from core.show.pocket import MARKS, on_paper
from core.sits.clock import MORNING
from core.sits.other_winds import LIGHT, STEADY
from core.sits.scene import Scene
from core.sits.verdicts import CANT_CALL, CLEAN, JUST_OFF
from core.sits.visor import HEADS, Cell, Choice, visor_rows
from core.sits.words import VERDICTS_SAID

STRENGTH_SAID = {LIGHT: "light", STEADY: "steady"}
SIT_HEADS = {
    MORNING: "Morning: leave the truck so many minutes before legal light",
    "evening": "Evening: leave the truck so many minutes before legal light ends",
}
STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; margin: 0; padding: 0; }
body { font: 13px/1.3 sans-serif; color: #000; background: #FFF; padding: 8px; }
h1 { font-size: 1.3em; }
h1 small { font-weight: normal; font-size: 0.65em; }
.wide { overflow-x: auto; }
table { width: 100%; min-width: 900px; border-collapse: collapse; table-layout: fixed; }
th, td { border: 1px solid #888; padding: 1px 4px; text-align: left; vertical-align: top; }
th { background: #EEE; }
col.point { width: 3.6em; }
tbody th { font-size: 1.15em; vertical-align: middle; }
td p { white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }
td p + p { color: #333; }
.mark { width: 0.85em; height: 0.85em; vertical-align: -0.08em; color: #1F5F99; }
.none { color: #333; }
footer { margin-top: 4px; font-size: 0.9em; }
@page { size: letter landscape; margin: 9mm; }
@media print {
  body { font-size: 9.2pt; line-height: 1.2; padding: 0; }
  .wide { overflow: visible; }
  table { min-width: 0; }
}
"""


def visor_sheet(
    scene: Scene,
    date: datetime.date,
    now_s: float,
    weapon: str | None = None,
    hunter: str | None = None,
) -> str:
    """The sheet as a whole HTML document without script or reference to the outside.

    Args: the scene; the date that stands for the season; when it is made [epoch s];
    weapon and hunter as in `prepare_sit`. Raises: as `core.sits.visor.visor_rows`.
    """
    rows = visor_rows(scene, date, weapon, hunter)
    name = scene.ground.name
    made = datetime.datetime.fromtimestamp(now_s, tz=ZoneInfo(scene.ground.timezone)).date()
    body = "".join(
        f"<tr><th scope=row>{row.point}</th>{''.join(_cell_html(c) for c in row.cells)}</tr>"
        for row in rows
    )
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">"
        f"<title>{text(name)}: season sheet</title><style>{STYLE}</style></head><body>{MARKS}"
        f"<h1>{text(name)} <small>which stand in which wind</small></h1>"
        f'<div class="wide"><table><colgroup><col class="point"></colgroup>{_head_html()}'
        f"<tbody>{body}</tbody></table></div>{_foot_html(date, made, weapon)}</body></html>"
    )


def _head_html() -> str:
    sits = list(dict.fromkeys(sit for sit, _ in HEADS))
    each = len(HEADS) // len(sits)
    tops = "".join(f"<th scope=colgroup colspan={each}>{SIT_HEADS[s]}</th>" for s in sits)
    lows = "".join(f"<th scope=col>{STRENGTH_SAID[s]} wind, {s}</th>" for _, s in HEADS)
    return f"<thead><tr><th scope=col rowspan=2>from</th>{tops}</tr><tr>{lows}</tr></thead>"


def _cell_html(cell: Cell) -> str:
    if not cell.choices:
        said = "can't call" if cell.cant_call else "none"
        return f'<td><p class="none">{said}</p></td>'
    return f"<td>{''.join(f'<p>{_choice_html(c)}</p>' for c in cell.choices)}</td>"


def _choice_html(choice: Choice) -> str:
    minutes = "" if choice.minutes is None else f"<b>{choice.minutes}</b> "
    by = f" by {text(choice.lane)}" if choice.lane else ""
    return f"{minutes}{on_paper(choice.verdict)} <b>{text(choice.stand)}</b>{by}"


def _foot_html(date: datetime.date, made: datetime.date, weapon: str | None) -> str:
    key = " ".join(f"{on_paper(v)} {VERDICTS_SAID[v]}" for v in (CLEAN, JUST_OFF, CANT_CALL))
    season = f" of {text(weapon)} season" if weapon else ""
    return (
        f"<footer><p>{key}. First choice above, second below; none: no stand is go.</p>"
        f"<p>Worked out for {date.day} {date:%B}{season}, the wind the same all through, "
        "cloud not known. Other dates differ: ask again with the day's forecast where you can. "
        "Calm or turning wind: nobody can call it.</p>"
        "<p>Harness tied in from the ground up; weapon up on a line, unloaded. Tell somebody "
        "where you sit and when you are back. Thunder: get down.</p>"
        f"<p>Made {made.day} {made:%B %Y}. Check today's legal light.</p></footer>"
    )
