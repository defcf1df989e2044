"""Tables of wind, attacked by their size: one of 195 MB took 6 GB and died. What is over the
limit is refused before it is read; what is just under it is read in 2 GB."""

import numpy as np

from core.weather.reading.packed import LARGEST_BYTES
from tests.attack.runs import GIB, core, core_each

LIBRARIES = 600_000_000  # address space before anything is read
HEAD = b"time_utc,wind_dir_deg,wind_mph\n"


def sparse(path, size: int):
    """A file of a size that takes no room on the disk."""
    with path.open("wb") as stream:
        stream.write(HEAD)
        stream.truncate(size)
    return path


def test_a_table_over_the_limit_is_refused_before_it_is_read(tmp_path):
    sizes, asked = (LARGEST_BYTES + 1, 195_000_000, 3 * 10**12), []
    for size in sizes:
        path = sparse(tmp_path / f"{size}.csv", size)
        asked += [("wind", path), ("season", "--property", "demo_property.json", "--history", path)]
    ends = core_each(*asked, memory=10**9)
    for size, wind, season in zip(sizes, ends[::2], ends[1::2], strict=True):
        assert wind[0] == 2 and f"has {size:,} bytes, over 50 MB" in wind[1]
        assert season[0] == 2 and "over 50 MB" in season[1] and "Split it" in season[1]


def test_a_device_that_never_ends_is_refused():
    done = core("wind", "/dev/zero", memory=10**9)
    assert done.returncode == 2 and len(done.stderr.splitlines()) == 1


def test_a_table_at_the_limit_is_read_in_two_gigabytes(tmp_path):
    """A fifth of it, in a fifth of what is left beside the libraries: the whole was tried."""
    size, memory = LARGEST_BYTES // 5, LIBRARIES + (2 * GIB - LIBRARIES) // 5
    path = tmp_path / "wind.csv"
    lines = (size - len(HEAD)) // len(b"1900-01-01 00:00,100,8\n")
    hours = np.datetime64("1900-01-01T00:00") + np.arange(lines) * np.timedelta64(1, "h")
    text = ",{},8\n".join(np.datetime_as_string(hours).tolist()).replace("T", " ")
    path.write_bytes(HEAD + text.replace("{}", "270").encode())
    with path.open("rb+") as stream:
        stream.truncate(size)
    done = core("wind", path, memory=memory)
    assert done.returncode == 0, done.stderr[-300:]
