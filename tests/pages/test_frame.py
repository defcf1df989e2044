"""Text on screens: Markdown shows it letter by letter, and nothing becomes a link."""

import re

import pytest

from pages.ui.frame import JOINER, plain
from tests.hostile import NAMES

# what Streamlit 1.67 makes of text after Markdown is done (tried in Chromium; the screens'
# own test is tests/browser/test_hostile_screens.py)
MADE_OF_TEXT = re.compile(
    r"https?://|www\.|\S@\w|mailto:\w|xmpp:\w|:material/|:streamlit:|->|<-|--|>=|<=|~=",
    re.IGNORECASE,
)


def seen(text: str) -> str:
    """What a reader sees of `plain`: escapes gone, the joiner unseen."""
    return re.sub(r"\\(\W|_)", r"\1", text)


@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_left_to_recognise(name):
    shown = seen(plain(NAMES[name]))
    assert MADE_OF_TEXT.search(shown) is None
    assert "\n" not in shown
    assert not shown.startswith((" ", "\t"))


@pytest.mark.parametrize("text", ["Oak", "6:21 am, 30°", "NW 8 mph: held", "it's 1-2 (a)", "a@ b"])
def test_other_words_are_as_they_were(text):
    assert JOINER not in plain(text)
    assert seen(plain(text)) == text
