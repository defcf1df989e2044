"""Tables of wind, attacked by their size: one of 195 MB took 6 GB and died. What is over the
limit is refused before it is read; what is just under it is read in 2 GB."""

import datetime

import pytest

from core.weather.reading.packed import LARGEST_BYTES
from tests.attack.runs import GIB, core

LIBRARIES = 600_000_000  # address space before anything is read
HEAD = b"time_utc,wind_dir_deg,wind_mph\n"


def sparse(path, size: int):
    """A file of a size that takes no room on the disk."""
    with path.open("wb") as stream:
        stream.write(HEAD)
        stream.truncate(size)
    return path


@pytest.mark.parametrize("size", [LARGEST_BYTES + 1, 195_000_000, 3 * 10**12])
def test_a_table_over_the_limit_is_refused_before_it_is_read(tmp_path, size):
    path = sparse(tmp_path / "wind.csv", size)
    done = core("wind", path, memory=10**9)
    assert done.returncode == 2 and f"has {size:,} bytes, over 50 MB" in done.stderr
    done = core(*("season", "--property", "demo_property.json", "--history", path), memory=10**9)
    assert done.returncode == 2 and "over 50 MB" in done.stderr and "Split it" in done.stderr


def test_a_device_that_never_ends_is_refused():
    done = core("wind", "/dev/zero", memory=10**9)
    assert done.returncode == 2 and len(done.stderr.splitlines()) == 1


def test_a_table_at_the_limit_is_read_in_two_gigabytes(tmp_path):
    """A fifth of it, in a fifth of what is left beside the libraries: the whole was tried."""
    size, memory = LARGEST_BYTES // 5, LIBRARIES + (2 * GIB - LIBRARIES) // 5
    path, first = tmp_path / "wind.csv", datetime.datetime(1900, 1, 1, tzinfo=datetime.UTC)
    hour, written = datetime.timedelta(hours=1), len(HEAD)
    with path.open("wb") as stream:
        stream.write(HEAD)
        at = first
        while written < size - 100:
            lines = b"".join(
                b"%s,%d,8\n" % ((at + i * hour).strftime("%Y-%m-%d %H:%M").encode(), i % 36 * 10)
                for i in range(1000)
            )
            stream.write(lines)
            written, at = written + len(lines), at + 1000 * hour
    with path.open("rb+") as stream:
        stream.truncate(size)
    done = core("wind", path, memory=memory)
    assert done.returncode == 0, done.stderr[-300:]
