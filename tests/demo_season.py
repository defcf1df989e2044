"""The demo's season in the typical year, worked out once for all tests of a process.

Of a few stands, where their number is not the point: a season of all takes a second.
"""

import functools

from core.ground.store import demo_path, open_property
from core.season.review import SeasonAnswer, judge_season
from core.sit.scene import Scene
from core.weather.files.typical import typical_year
from tests.few_stands import STANDS, few_stands_file

FIVE = (*STANDS, "hay-tripod")  # one to watch from is among them


@functools.cache
def demo_season() -> SeasonAnswer:
    """The season of all its stands, without its heights."""
    return judge_season(Scene(open_property(demo_path()).property), typical_year())


@functools.cache
def few_season() -> SeasonAnswer:
    """The season of five of its stands."""
    return judge_season(Scene(open_property(few_stands_file(FIVE)).property), typical_year())
