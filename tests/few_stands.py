"""The demo with a few of its stands and without heights: where its size is not the point.

`python -m tests.few_stands DEMO run dashboard.py` is `streamlit run` with it as the demo.
"""

import atexit
import functools
import json
import shutil
import sys
import tempfile
from pathlib import Path

from core.ground import store
from core.ground.store import DEMO
from core.sit.scene import Scene

STANDS = ("dry-fork", "plum-edge", "oats-box", "split-oak")


TWO_WEEKS = ("11-01", "11-14")


def few_stands(kept: tuple[str, ...] = STANDS, season: tuple[str, str] | None = None) -> dict:
    """The demo's document with some stands, and the ways that lead to them.

    Args: their ids; first and last day of all its seasons, None for its own.
    """
    document = json.loads(DEMO.read_text(encoding="utf-8"))
    del document["property"]["land"]
    document["features"] = [f for f in document["features"] if _stays(f, kept)]
    for feature in document["features"]:
        if "stands" in feature["properties"]:
            served = feature["properties"]["stands"]
            feature["properties"]["stands"] = [i for i in served if i in kept]
    for one in document["property"]["seasons"] if season else ():
        one["first"], one["last"] = season
    return document


def _stays(feature: dict, kept: tuple[str, ...]) -> bool:
    kind, served = feature["properties"]["kind"], feature["properties"].get("stands", kept)
    return (kind != "stand" or feature["id"] in kept) and bool({*served} & {*kept})


@functools.cache
def few_stands_file(kept: tuple[str, ...] = STANDS, season: tuple[str, str] | None = None) -> Path:
    """Its file, under the demo's own name, for as long as this process runs. Args: as above."""
    folder = Path(tempfile.mkdtemp(prefix="few-stands-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    path = folder / DEMO.name
    path.write_text(json.dumps(few_stands(kept, season)), encoding="utf-8")
    return path


@functools.cache
def few_stands_scene() -> Scene:
    """The ground of it made ready for sums; one for all tests of a process."""
    return Scene(store.open_property(few_stands_file()).property)


def main() -> None:
    """Runs Streamlit with another file as the demo."""
    from streamlit.web.cli import main as streamlit

    store.DEMO = Path(sys.argv.pop(1))
    streamlit(prog_name="streamlit")


if __name__ == "__main__":
    main()
