"""Eight situations to print, the answers on a second page. One HTML page, no script."""

import datetime

from core.learn.classroom import date_text
from core.learn.pick_one import Pick, best_of, judge_pick
from core.learn.second_hunter import other_hunter_line
from core.learn.situations import Situation, draw_situation
from core.learn.turn_the_wind import turn_sentence
from core.say.words import VERDICTS_SAID, at_time, wind_words
from core.show.map import Emphasis, property_map
from core.show.palette import PRINT
from core.show.template import filled
from core.sit.scene import Scene
from core.sit.verdicts import GO

HOW_MANY = 8


def lesson_sheet(scene: Scene, year: int, seed: int, printed: datetime.date) -> str:
    """The sheet of eight situations from a seed on.

    Args: the scene; the year whose days are drawn; the first seed; the day of printing.
    Returns: a whole HTML page. Raises: as `draw_situation`.
    """
    situations = [draw_situation(scene, year, seed + i) for i in range(HOW_MANY)]
    return filled(
        "lesson_sheet.html",
        name=scene.ground.name,
        printed=f"{date_text(printed)} {printed.year}",
        seed=seed,
        map=property_map(scene, Emphasis(whole=True), colours=PRINT, name="sheet"),
        questions=[_question(s) for s in situations],
        answers=[_answer(s) for s in situations],
    )


def _question(situation: Situation) -> str:
    clock = situation.ready.clock
    sit = situation.ready
    light = f"{at_time(sit, clock.legal_start_s)} to {at_time(sit, clock.legal_end_s)}"
    return (
        f"{date_text(situation.date)}, {situation.sit}. Legal light {light}. "
        f"{winds_line(situation)} {other_hunter_line(situation)}"
    ).strip()


def winds_line(situation: Situation) -> str:
    """The winds of the window, hour by hour, equal ones together."""
    sit = situation.ready
    blown: list[tuple[str, str]] = []
    for i, row in enumerate(range(sit.window.start, sit.window.stop)):
        wind = wind_words(sit.rows.weather, row)
        if not blown or blown[-1][1] != wind:
            blown.append((at_time(sit, sit.shown_start_s(i)), wind))
    return "Wind: " + "; ".join(f"{at} {wind}" for at, wind in blown) + "."


def _answer(situation: Situation) -> list[str]:
    best = best_of(situation)
    go = [s for s in situation.answer.stands if s.group == GO]
    if best is None:
        lines = [judge_pick(situation, Pick(None)).headline]
        lines += judge_pick(situation, Pick(None)).lines
    else:
        way = f" by {best.way_in.way.lane.name}" if best.way_in is not None else ""
        lines = [f"Go: {best.stand.name} ({VERDICTS_SAID[best.verdict]}){way}."]
        lines.append(turn_sentence(situation.ready, best))
        others = [s.stand.name for s in go if s.stand.id != best.stand.id]
        if others:
            lines.append(f"Also go: {', '.join(others)}.")
        out = next((s for s in situation.answer.stands if s.group != GO), None)
        if out is not None:
            lines.append(f"Not {out.stand.name}: {turn_sentence(situation.ready, out)}")
    return lines
