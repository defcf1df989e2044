"""The demo's season in the typical year, worked out once for all tests of a process."""

import functools

from core.ground.store import demo_path, open_property
from core.season.review import SeasonAnswer, judge_season
from core.sit.scene import Scene
from core.weather.files.typical import typical_year


@functools.cache
def demo_season() -> SeasonAnswer:
    """The season of all its stands, without its heights."""
    return judge_season(Scene(open_property(demo_path()).property), typical_year())
