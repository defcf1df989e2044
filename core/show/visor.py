"""The sheet on the sun visor: one printed page for the season, without power or signal."""

import datetime
from zoneinfo import ZoneInfo

from core.answer.other_winds import LIGHT, STEADY
from core.say.words import VERDICTS_SAID
from core.season.visor import HEADS, Cell, visor_rows
from core.show.card import text
from core.show.fitting import fitted
from core.show.pocket import MARKS, on_paper
from core.sit.minutes import MORNING
from core.sit.scene import Scene
from core.sit.verdicts import CANT_CALL, CLEAN, JUST_OFF

# what a column of letter paper holds: in small print, and both together in the usual
STAND_LETTERS, WAY_LETTERS = 15, 14
USUAL_LETTERS = 27
STRENGTH_SAID = {LIGHT: "light", STEADY: "steady"}
SIT_HEADS = {
    MORNING: "Morning: leave the truck so many minutes before legal light",
    "evening": "Evening: leave the truck so long (h:mm) before legal light ends",
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
tbody th { font-size: 1.15em; vertical-align: middle; position: sticky; left: 0; }
td p { white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }
td p + p { color: #333; }
.mark { width: 0.85em; height: 0.85em; vertical-align: -0.08em; color: #1F5F99; }
.none { color: #333; }
footer { margin-top: 4px; font-size: 0.9em; }
@page { size: letter landscape; margin: 9mm; }
@media print {
  body { font-size: 9.6pt; line-height: 1.27; padding: 0; }
  .small td p { font-size: 0.8em; }
  .wide { overflow: visible; }
  tbody th { position: static; }
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
    weapon and hunter as in `prepare_sit`. Raises: as `core.season.visor.visor_rows`.
    """
    rows = visor_rows(scene, date, weapon, hunter)
    name = scene.ground.name
    made = datetime.datetime.fromtimestamp(now_s, tz=ZoneInfo(scene.ground.timezone)).date()
    ways = _fitted([w.name or w.id for w in scene.ground.lanes], WAY_LETTERS)
    stands = _fitted([s.name or s.id for s in scene.ground.stands], STAND_LETTERS)
    small = any(
        len(stands[c.stand]) + len(ways.get(c.lane, "")) > USUAL_LETTERS
        for row in rows
        for cell in row.cells
        for c in cell.choices
    )
    body = "".join(
        f"<tr><th scope=row>{row.point}</th>"
        + "".join(
            _cell_html(c, sit, stands, ways) for c, (sit, _) in zip(row.cells, HEADS, strict=True)
        )
        + "</tr>"
        for row in rows
    )
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">"
        f"<title>{text(name)}: season sheet</title><style>{STYLE}</style></head><body>{MARKS}"
        f"<h1>{text(name)} <small>which stand in which wind</small></h1>"
        f'<div class="{"wide small" if small else "wide"}"><table>'
        f'<colgroup><col class="point"></colgroup>{_head_html()}'
        f"<tbody>{body}</tbody></table></div>{_foot_html(date, made, weapon)}</body></html>"
    )


def _head_html() -> str:
    sits = list(dict.fromkeys(sit for sit, _ in HEADS))
    each = len(HEADS) // len(sits)
    tops = "".join(f"<th scope=colgroup colspan={each}>{SIT_HEADS[s]}</th>" for s in sits)
    lows = "".join(f"<th scope=col>{STRENGTH_SAID[s]} wind, {s}</th>" for _, s in HEADS)
    return f"<thead><tr><th scope=col rowspan=2>from</th>{tops}</tr><tr>{lows}</tr></thead>"


def _fitted(names: list[str], letters: int) -> dict[str, str]:
    """What stands on the sheet for each name."""
    own = list(dict.fromkeys(names))
    return dict(zip(own, fitted(own, letters), strict=True))


def _cell_html(cell: Cell, sit: str, stands: dict[str, str], ways: dict[str, str]) -> str:
    if not cell.choices:
        said = "can't call" if cell.cant_call else "none"
        return f'<td><p class="none">{said}</p></td>'
    lines = []
    for choice in cell.choices:
        by = f" by {text(ways[choice.lane])}" if choice.lane else ""
        lines.append(
            f"<p>{_before(choice.minutes, sit)}{on_paper(choice.verdict)} "
            f"<b>{text(stands[choice.stand])}</b>{by}</p>"
        )
    return f"<td>{''.join(lines)}</td>"


def _before(minutes: int | None, sit: str) -> str:
    """How long before: minutes in the morning, hours and minutes in the evening."""
    if minutes is None:
        return ""
    said = str(minutes) if sit == MORNING else f"{minutes // 60}:{minutes % 60:02d}"
    return f"<b>{said}</b> "


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
