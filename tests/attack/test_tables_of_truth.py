"""Tables written from known hours are read right, or asked about, noted or refused.

    python tests/attack/test_tables_of_truth.py 5000

draws as many tables as it is told, reads each, answers what is asked as its writer
would, and prints how many were right at once, right after questions, right with a note
that speaks of it, refused, and wrong; the suite draws a few hundred. A wrong hour is
excused by a note only where the note speaks of what is wrong.
"""

import dataclasses
import re
import sys
import warnings
from collections import Counter
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).resolve().parents[2]
if __name__ == "__main__":
    sys.path.insert(0, str(ROOT))
sys.path.insert(0, str(Path(__file__).parent))

from truth_draft import HOUR_S, Draft  # noqa: E402
from truth_tables import draw, turns_apart_deg  # noqa: E402

from core.errors import NeedsAnswer, StandWindError  # noqa: E402
from core.weather.answers import Answers  # noqa: E402
from core.weather.files.recognise import read_weather  # noqa: E402

FIELDS = {f.name for f in dataclasses.fields(Answers)}
SPEAKS_OF = {
    "time": re.compile(r"time|hour|zone|clock|UTC|year|month|day|moved|dates", re.IGNORECASE),
    "direction": re.compile(r"direction|degree|where the wind|turned about|label", re.IGNORECASE),
    "speed": re.compile(r"unit|says|m/s|mph|kt|km/h", re.IGNORECASE),
}
LEFT_OUT = re.compile(r"left out|hold no hour|holds no hour|missing|not used|no direction")
IDLE = re.compile(r"^\d+ hours? missing$|line end")
MOST_QUESTIONS = 14
SUITE = 300


@dataclasses.dataclass
class Outcome:
    """How the reading of one table ended; `asked` are the questions on the way."""

    kind: str  # right, noted, asked, refused, wrong
    asked: tuple[str, ...] = ()
    said: str = ""


def read_truly(draft: Draft):
    """What is read once all questions have their true answers, and the questions."""
    answers = Answers(likely_zone=draft.place if draft.place_known else None)
    asked: list[str] = []
    while True:
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                return read_weather(draft.text.encode(), "truth.csv", answers), asked
        except NeedsAnswer as question:
            if len(asked) >= MOST_QUESTIONS or asked.count(question.asks) > 1:
                raise
            asked.append(question.asks)
            answers = answered(answers, question, draft)


def answered(answers: Answers, question: NeedsAnswer, draft: Draft) -> Answers:
    """The answers with the true one to a question; raises it where there is none."""
    if question.asks == "columns":
        named = [(w, draft.names.get(w, "")) for w in question.needs]
        offered = {c.value for c in question.choices}
        if not all(name.strip() in offered for _, name in named):
            raise question
        value = (*answers.columns, *((w, n.strip()) for w, n in named))
    else:
        value = draft.answers.get(question.asks)
        if value is None or question.asks not in FIELDS:
            raise question
    return dataclasses.replace(answers, **{question.asks: value})


def outcome(draft: Draft) -> Outcome:
    """How the reading of a table ends."""
    try:
        hours, asked = read_truly(draft)
    except NeedsAnswer as question:
        return Outcome("asked", (question.asks,), str(question))
    except StandWindError as fault:
        return Outcome("refused", (), str(fault))
    notes = [n for n in hours.notes if not IDLE.search(n)]
    wrong = faults(draft, hours, notes)
    if draft.hopeless and not wrong:
        wrong = {} if notes else {"hopeless": draft.hopeless}
    excused = all(any(SPEAKS_OF.get(about, LEFT_OUT).search(n) for n in notes) for about in wrong)
    if wrong and not excused:
        return Outcome("wrong", tuple(asked), f"{wrong} {hours.notes}")
    if wrong:
        return Outcome("noted", tuple(asked), f"{wrong} {hours.notes}")
    return Outcome("asked" if asked else "right", tuple(asked), str(hours.notes))


def faults(draft: Draft, hours, notes) -> dict[str, str]:
    """What of a table was read wrong, by what it is about."""
    keep = np.ones(len(draft.start_s), bool) if draft.keep is None else draft.keep
    start = draft.start_s[keep]
    wind, speed = draft.wind_from_deg[keep], draft.speed_mps[keep]
    at = {int(s): i for i, s in enumerate(hours.start_s)}
    extra = sorted(set(at) - set(start.tolist()))
    if extra:
        return {
            "time": f"{len(extra)} hours that are none, {(extra[0] - start[0]) / HOUR_S:+.2f} h"
        }
    found = np.array([i for i, s in enumerate(start) if int(s) in at])
    rows = np.array([at[int(start[i])] for i in found])
    wrong = {}
    if len(found) < len(start) and not any(LEFT_OUT.search(n) for n in notes):
        wrong["left out"] = f"{len(start) - len(found)} hours"
    slow = np.abs(hours.speed_mps[rows] - speed[found]) > 0.06 * 0.6 + 1e-3 * speed[found]
    if slow.any():
        i = int(np.argmax(slow))
        wrong["speed"] = f"{hours.speed_mps[rows][i]:.2f} m/s for {speed[found][i]:.2f}"
    directed = ~np.isnan(hours.wind_from_deg[rows])
    if (~directed & (speed[found] > 0)).any():
        wrong["direction"] = "lost"
    apart = turns_apart_deg(hours.wind_from_deg[rows], wind[found])
    if (directed & (apart > draft.near_deg)).any():
        i = int(np.argmax(directed & (apart > draft.near_deg)))
        wrong["direction"] = f"{hours.wind_from_deg[rows][i]:.1f} for {wind[found][i]:.1f}"
    return wrong


def tally(seeds) -> tuple[Counter, list[tuple[int, Draft, Outcome]]]:
    """How many tables ended how, and those that did not end right."""
    counts: Counter = Counter()
    odd = []
    for seed in seeds:
        draft = draw(seed)
        ended = outcome(draft)
        counts[ended.kind] += 1
        if ended.kind in ("wrong", "noted", "refused"):
            odd.append((seed, draft, ended))
    return counts, odd


@pytest.mark.parametrize("part", range(3))
def test_no_table_is_read_wrong_without_a_word(part):
    counts, odd = tally(range(part * SUITE // 3, (part + 1) * SUITE // 3))
    wrong = [
        f"seed {seed}: {ended.said}\n{draft.text[:400]}"
        for seed, draft, ended in odd
        if ended.kind == "wrong"
    ]
    assert not wrong, "\n\n".join(wrong[:3])
    assert counts["right"] + counts["asked"] > SUITE / 3 * 0.6, counts


def main(words: list[str]) -> int:
    n = int(words[0]) if words else 5000
    first = int(words[1]) if len(words) > 1 else 0
    counts, odd = tally(range(first, first + n))
    kinds = ("right", "asked", "noted", "refused", "wrong")
    print(f"{n} tables: " + ", ".join(f"{counts[k]} {k}" for k in kinds))
    for seed, draft, ended in odd:
        if ended.kind in words[2:]:
            print(
                f"\n{ended.kind}: seed {seed} {draft.said} {draft.hopeless}\n  {ended.said[:300]}"
            )
            print("  " + "\n  ".join(draft.text.split("\n")[:6]))
    return 1 if counts["wrong"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
