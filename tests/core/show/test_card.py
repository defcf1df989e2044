"""The hours of a sit in a row: pieces that decide nothing are told only where they differ."""

import re

from core.answer.one_sit import answer_sit
from core.cli.shared import scene_at
from core.ground.store import demo_path
from core.show.card import hours_html
from core.sit.prepare import prepare_sit
from core.weather.entry import parse_wind
from tests.grounds import NOV_10


def test_a_piece_of_a_minute_like_the_one_before_it_is_left_out():
    """At Dry fork slope air turns from 7:19 to 7:59: the minute up to 8:00 is a piece too."""
    sit = prepare_sit(scene_at(str(demo_path())), parse_wind("NW 8"), NOV_10, "morning")
    seat = next(s for s in answer_sit(sit).stands if s.stand.id == "dry-fork")
    short = [i for i, minutes in enumerate(seat.rows.minutes) if minutes < 15]
    assert short, "the morning has such a piece"
    alike = [i for i in short if i and seat.hours.verdict[i] == seat.hours.verdict[i - 1]]
    clocks = re.findall(r"<b>([\d:]+)</b>", str(hours_html(sit, seat)))
    assert len(clocks) == len(seat.rows.minutes) - len(alike)
    assert "7:59" not in clocks and "8:00" in clocks
