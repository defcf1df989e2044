"""Bars of the air ledger: as many as weeks with air, as tall as they are long."""

import datetime
import re

from core.log.ledger import SEAT, Lay, Ledger
from core.show.ledger_bars import ledger_bars, minutes_by_week, weeks_of
from core.show.palette import DARK
from tests.grounds import PIEDMONT, bed, ground
from tests.hostile import NAMES

FIRST, LAST = datetime.date(2026, 11, 4), datetime.date(2026, 11, 17)  # a Wednesday, a Tuesday


def lay(day, minutes, place="cane"):
    return Lay("e", datetime.date(2026, 11, day), place, SEAT, minutes)


def test_weeks_begin_on_mondays():
    assert weeks_of(FIRST, LAST) == [datetime.date(2026, 11, d) for d in (2, 9, 16)]


def test_minutes_fall_into_their_week():
    led = Ledger((lay(4, 30.0), lay(8, 60.0), lay(9, 15.0)), ())
    assert minutes_by_week(led, weeks_of(FIRST, LAST)) == {"cane": [90.0, 15.0, 0.0]}


def test_a_bar_is_as_tall_as_its_week_is_long():
    prop = ground(areas=(bed(PIEDMONT, 180, 100),))
    drawn = ledger_bars(Ledger((lay(8, 120.0), lay(9, 30.0)), ()), prop, FIRST, LAST, DARK)
    tall = [float(x) for x in re.findall(r'<rect[^>]*height="([0-9.]+)"[^>]*fill="#7FB7E6"', drawn)]
    assert len(tall) == 2
    assert tall[0] == 4 * tall[1]
    assert "Cane, 2 h 30" in drawn


def test_names_stay_words():
    for name in NAMES.values():
        prop = ground(areas=(bed(PIEDMONT, 180, 100),))
        area = prop.areas[0]
        prop = ground(areas=(type(area)(id="cane", name=name, kind="bedding", ring=area.ring),))
        drawn = ledger_bars(Ledger((lay(8, 120.0),), ()), prop, FIRST, LAST, DARK)
        assert "<script" not in drawn and "<img" not in drawn
