"""Names cut to the room there is."""

import re

from hypothesis import given
from hypothesis import strategies as st

from core.ground.layout import Stand
from core.show.fitting import fitted
from core.show.map import DESK_WIDTH, property_map
from core.sit.scene import Scene
from tests.grounds import PIEDMONT, at, ground


def test_a_name_that_fits_is_left_alone_and_a_long_one_loses_its_end():
    assert fitted(["Spring", "Old orchard corner"], 12) == ["Spring", "Old orchard…"]


def test_names_that_would_read_alike_keep_their_ends():
    # 15 letters: 6 of the beginning, the sign, 8 of the end
    found = fitted(["Long-named ridge stand 7", "Long-named ridge stand 8"], 15)
    assert found == ["Long-n…stand 7", "Long-n…stand 8"]
    assert all(len(name) <= 15 for name in found)


@given(st.lists(st.text(max_size=40), unique=True, max_size=12), st.integers(6, 30))
def test_nothing_is_longer_than_the_room(names, letters):
    found = fitted(names, letters)
    assert len(found) == len(names)
    assert all(len(name) <= letters for name in found)


def test_stands_with_long_names_are_told_apart_on_a_map():
    prop = ground(
        stands=tuple(
            Stand(f"s{i}", f"Lower walnut hollow, the leaning one {i}", at(PIEDMONT, 90 * i, 200))
            for i in range(4)
        )
    )
    words = re.findall(r">([^<]*…[^<]*)</text>", property_map(Scene(prop), width=DESK_WIDTH))
    assert len(words) == 4 and len(set(words)) == 4
