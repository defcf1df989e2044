"""Faults in grids of heights, and in what is kept of them."""

from tests.mutants.placing import Fault

WINDOW = ("tests/core/ground/heights/test_tiff_window.py",)
IN_ZONE = ("tests/core/ground/heights/test_utm_grid.py",)
HOSTILE = ("tests/core/ground/heights/test_hostile_files.py",)
FETCHED = ("tests/core/weather/services/test_heights.py",)

FAULTS = (
    Fault(
        "a-hole-counts-as-a-height",
        "core/ground/heights/tiff_window.py::_Mean.height",
        "np.where(self.seen == whole, self.total / whole, np.nan)",
        "np.nan_to_num(self.total) / whole",
        WINDOW,
    ),
    Fault(
        "averaged-cells-keep-the-first-cells-place",
        "core/ground/heights/tiff_window.py::_moved",
        "first[1] + (across - 1) / 2.0",
        "first[1]",
        WINDOW,
    ),
    Fault(
        "a-head-without-bounds",
        "core/ground/heights/tiff_head.py::_value",
        "if not 0 < count <= MOST_VALUES[number]:",
        "if False:",
        WINDOW,
    ),
    Fault(
        "a-text-grid-in-meters-is-of-any-zone",
        "core/ground/heights/esri_ascii.py::read_esri_ascii",
        "if zone is None:",
        "zone = zone or (17, False)\n    if zone is None:",
        IN_ZONE,
    ),
    Fault(
        "a-mark-of-no-data-is-a-height",
        "core/ground/heights/elevation_file.py::_on_earth",
        "np.where(is_land, grid.height, np.nan)",
        "grid.height",
        HOSTILE,
    ),
    Fault(
        "a-text-grid-of-any-length-is-read",
        "core/ground/heights/esri_ascii.py::_heights",
        "and found <= wanted",
        "and found >= 0",
        HOSTILE,
    ),
    Fault(
        "a-box-rounded-inward",
        "core/weather/services/heights.py::box_sent",
        "(math.ceil(east), math.ceil(north))",
        "(math.floor(east), math.floor(north))",
        FETCHED,
    ),
    Fault(
        "treetops-where-the-ground-could-be-had-later",
        "core/weather/services/heights.py::_asked",
        "if ask is _copernicus and troubles:",
        "if False:",
        FETCHED,
    ),
    Fault(
        "any-part-of-a-file-will-do",
        "core/weather/services/service.py::_hook",
        "_look_at_part(answer",
        "str(answer",
        FETCHED,
    ),
    Fault(
        "heights-from-another-place",
        "core/weather/services/heights.py::_check_place",
        "if short > slack:",
        "if False:",
        FETCHED,
    ),
    Fault(
        "basins-filled-to-the-brim",
        "core/land/relief.py::drained",
        "if not deep.any():",
        "if True:",
        ("tests/core/land/test_pits.py", "tests/core/land/test_lies.py"),
    ),
    Fault(
        "any-level-ground-is-a-pass",
        "core/land/pools.py::saddles",
        "(np.asarray(crossings) >= 4) & level",
        "level",
        ("tests/core/land/test_lies.py",),
    ),
    Fault(
        "a-closed-eye-on-typed-slopes",
        "core/criticism/slopes.py::slope_findings",
        "if agrees(shown, stand):",
        "if True:",
        ("tests/core/land/test_cut_and_kept.py",),
    ),
    Fault(
        "derived-whatever-the-heights",
        "core/land/kept_derived.py::_place",
        "code.update(np.ascontiguousarray(kept.grid.height).tobytes())",
        "pass",
        ("tests/core/land/test_kept_derived.py",),
    ),
)
