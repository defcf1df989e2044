"""The hours of a sit in a row: pieces that decide nothing are told only where they differ."""

import datetime
import itertools
import re
import zoneinfo

from core.answer.one_sit import answer_sit
from core.cli.shared import scene_at
from core.ground.store import demo_path
from core.show.card import hours_html
from core.sit.prepare import prepare_sit
from core.weather.entry import parse_wind
from tests.grounds import NOV_10


def test_a_piece_of_a_minute_like_the_one_before_it_is_left_out():
    """At Dry fork slope air turns from 7:21 to 8:00: the minute from then to 8:01 is a piece."""
    sit = prepare_sit(scene_at(str(demo_path())), parse_wind("NW 8"), NOV_10, "morning")
    seat = next(s for s in answer_sit(sit).stands if s.stand.id == "dry-fork")
    pieces = list(zip(seat.rows.start_s, seat.rows.minutes, seat.hours.verdict, strict=True))
    alike = [b[0] for a, b in itertools.pairwise(pieces) if b[1] < 15 and a[2] == b[2]]
    assert alike, "the morning has such a piece"
    there = zoneinfo.ZoneInfo(sit.timezone)
    clocks = [
        f"{datetime.datetime.fromtimestamp(s, there):%-I:%M}" for s, *_ in pieces if s not in alike
    ]
    assert re.findall(r"<b>([\d:]+)</b>", str(hours_html(sit, seat))) == clocks
