"""The sheet on the sun visor: one printed page for the season, without power or signal."""

import datetime
from zoneinfo import ZoneInfo

from core.answer.other_winds import LIGHT, STEADY
from core.say.hunters.orange import orange_on
from core.say.log.felt import turn_lines
from core.season.visor import HEADS, VisorRow, visor_rows
from core.show.fitting import fitted
from core.show.template import filled
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


def visor_sheet(
    scene: Scene,
    date: datetime.date,
    now_s: float,
    weapon: str | None = None,
    hunter: str | None = None,
    taken: dict[str, str] | None = None,
) -> str:
    """The sheet as a whole HTML document without script or reference to the outside.

    Args: the scene; the date that stands for the season; when it is made [epoch s];
    weapon and hunter as in `prepare_sit`; the stands that others have, names by id.
    Raises: as `core.season.visor.visor_rows`.
    """
    rows = visor_rows(scene, date, weapon, hunter, taken=taken)
    made = datetime.datetime.fromtimestamp(now_s, tz=ZoneInfo(scene.ground.timezone)).date()
    ways = _fitted([w.name or w.id for w in scene.ground.lanes], WAY_LETTERS)
    stands = _fitted([s.name or s.id for s in scene.ground.stands], STAND_LETTERS)
    small = any(
        len(stands[c.stand]) + len(ways.get(c.lane, "")) > USUAL_LETTERS
        for row in rows
        for cell in row.cells
        for c in cell.choices
    )
    return filled(
        "visor.html",
        name=scene.ground.name,
        is_small=small,
        heads=_heads(),
        columns=[f"{STRENGTH_SAID[s]} wind, {s}" for _, s in HEADS],
        rows=[{"point": row.point, "cells": _cells(row, stands, ways)} for row in rows],
        key=(CLEAN, JUST_OFF, CANT_CALL),
        day=f"{date.day} {date:%B}",
        weapon=weapon,
        orange=orange_on(scene.ground, date, weapon),
        others_out=[
            f"{who} sits at {scene.ground.name_of(stand)}." for stand, who in (taken or {}).items()
        ],
        felt=turn_lines(scene.ground),
        made=f"{made.day} {made:%B %Y}",
    )


def _heads() -> list[dict]:
    sits = list(dict.fromkeys(sit for sit, _ in HEADS))
    return [{"words": SIT_HEADS[sit], "columns": len(HEADS) // len(sits)} for sit in sits]


def _fitted(names: list[str], letters: int) -> dict[str, str]:
    """What stands on the sheet for each name."""
    different = list(dict.fromkeys(names))
    return dict(zip(different, fitted(different, letters), strict=True))


def _cells(row: VisorRow, stands: dict[str, str], ways: dict[str, str]) -> list[dict]:
    """The cells of one wind as the template takes them."""
    return [
        {
            "words": "can't call" if cell.cant_call else "none",
            "choices": [
                {
                    "before": _before(choice.minutes, sit),
                    "verdict": choice.verdict,
                    "stand": stands[choice.stand],
                    "lane": ways[choice.lane] if choice.lane else "",
                }
                for choice in cell.choices
            ],
        }
        for cell, (sit, _) in zip(row.cells, HEADS, strict=True)
    ]


def _before(minutes: int | None, sit: str) -> str:
    """How long before: minutes in the morning, hours and minutes in the evening."""
    if minutes is None:
        return ""
    return str(minutes) if sit == MORNING else f"{minutes // 60}:{minutes % 60:02d}"
