"""Every number of the property file, attacked: at its edges a sit and the criticism are
worked out within 2 GB; a step beyond, and at the smallest and largest floats, it is refused
in a message that names the value. Lines that go to and fro for thousands of miles too."""

import copy
import json
import math
from collections.abc import Iterator

import pytest

from core.errors import BadProperty
from core.ground.fields import Field, number
from core.ground.kinds import KINDS, PROPERTY
from core.ground.parse import LONGEST_WALK_MIN, read_document
from tests.attack.runs import core_each
from tests.few_stands import few_stands

DEMO = few_stands()
Path = tuple[str | int, ...]
# lists of records, and what one of them needs where the demo has none
LISTS = {
    "seasons": {},
    "parts": {},
    "people": {},
    "weapons": {"name": "longbow"},
    "turns": {"from_deg": [[0, 90]], "turn_deg": 0},
}
# of two the second may not be less: the other, and between what it may be
PAIRS = {
    "wind_from_mph": ("wind_to_mph", 0, 40),
    "wind_to_mph": ("wind_from_mph", 0, 40),
    "from_f": ("to_f", -20, 130),
    "to_f": ("from_f", -20, 130),
}


def inner_fields(check) -> tuple[Field, ...]:
    """The table that a check of a record or of a list of records goes by."""
    held = [cell.cell_contents for cell in getattr(check, "__closure__", None) or ()]
    for one in held:
        if isinstance(one, tuple) and one and isinstance(one[0], Field):
            return one
        if callable(one) and (found := inner_fields(one)):
            return found
    return ()


def numbers(fields: tuple[Field, ...], path: Path = ()) -> Iterator[tuple[Path, number]]:
    """Where the numbers of a table lie, and their checks."""
    for field in fields:
        if isinstance(field.check, number):
            yield (*path, field.name), field.check
        else:
            inner = (*path, field.name, *((0,) if field.name in LISTS else ()))
            yield from numbers(inner_fields(field.check), inner)


def all_numbers() -> list[tuple[str, Path, number]]:
    kinds = [(kind, row.fields) for kind, row in KINDS.items()] + [("property", PROPERTY)]
    return [(kind, path, check) for kind, fields in kinds for path, check in numbers(fields)]


NUMBERS = all_numbers()


def put(document: dict, kind: str, path: Path, value) -> None:
    """Writes a number into the rules, or into every feature of a kind."""
    owners = (
        [document["property"]]
        if kind == "property"
        else [f["properties"] for f in document["features"] if f["properties"]["kind"] == kind]
    )
    for owner in owners:
        inside = owner
        for name in path[:-1]:
            bare = [dict(LISTS[name])] if name in LISTS else {}
            inside = inside[name] if isinstance(name, int) else inside.setdefault(name, bare)
        inside[path[-1]] = value
        if path[-1] in PAIRS:
            other, low, high = PAIRS[path[-1]]
            inside[other] = min(max(value, low), high)
        if path[-1] in ("downhill_deg", "grade_pct"):  # these two belong together
            owner.setdefault("downhill_deg", 90)
            owner.setdefault("grade_pct", 10)
        if path[-1] == "wrong_within_yd":
            owner["air"]["clean_beyond_yd"] = min(max(value, 500), 3520)
        if path[-1] == "clean_beyond_yd":
            owner["air"]["wrong_within_yd"] = max(min(value, 250), 10)


def with_number(kind: str, path: Path, value) -> dict:
    document = copy.deepcopy(DEMO)
    put(document, kind, path, value)
    return document


def test_the_table_holds_every_number():
    named = {path[-1] for _, path, _ in NUMBERS}
    assert {"walk_mph", "range_yd", "rest_days", "elevation_m", "width_ft", "under_mph"} <= named
    assert len(NUMBERS) >= 24
    for _, path, check in NUMBERS:  # nothing may be as near to nothing as one likes
        assert check.low == 0 or abs(check.low) >= 0.1, path


@pytest.mark.parametrize(("kind", "path", "check"), NUMBERS, ids=lambda x: str(x)[:40])
def test_a_step_beyond_is_refused_by_name(kind, path, check):
    for value in (
        math.nextafter(check.low, -math.inf),
        math.nextafter(check.high, math.inf),
        -1e308,
        1e308,
        10**300,
        *([5e-324] if check.low > 0 else []),
    ):
        with pytest.raises(BadProperty) as caught:
            read_document(with_number(kind, path, value), "x.json")
        assert str(path[-1]) in caught.value.what and json.dumps(value)[:20] in caught.value.what
    for value in (check.low, check.high):
        read_document(with_number(kind, path, value), "x.json")


def at_all_edges(edge: str) -> dict:
    """All of them at once, but for the two that could hide the others."""
    document = copy.deepcopy(DEMO)
    for kind, path, check in NUMBERS:
        if path[-1] not in ("wrong_within_yd", "clean_beyond_yd"):
            put(document, kind, path, getattr(check, edge))
    return document


def at_one_edge(edge: str, *path: str) -> dict:
    """The ones that the others could hide, alone."""
    check = next(c for kind, p, c in NUMBERS if kind == "property" and p == path)
    document = with_number("property", path, getattr(check, edge))
    for feature in document["features"]:
        feature["properties"].pop("minutes", None)  # so that the pace counts
    return document


EDGES = {
    "all low": at_all_edges("low"),
    "all high": at_all_edges("high"),
    "slow": at_one_edge("low", "sit", "walk_mph"),
    "quick": at_one_edge("high", "sit", "walk_mph"),
    "long": at_one_edge("high", "sit", "evening_h"),
    "slopes fade at once": at_one_edge("low", "air", "slope_fades_at_mps"),
    "wrong far off": at_one_edge("high", "air", "wrong_within_yd"),
}


def test_at_the_edges_the_answer_comes_within_memory(tmp_path):
    """A sit comes, or one message; never a traceback, and never more than 2 GB."""
    for name, document in EDGES.items():
        (tmp_path / f"{name}.json").write_text(json.dumps(document))
    day = ("--date", "2026-11-10", "--sit", "morning", "--wind", "NW 8")
    ends = core_each(*(("sits", "--property", tmp_path / f"{name}.json", *day) for name in EDGES))
    for name, (code, told) in zip(EDGES, ends, strict=True):
        assert code in (0, 2), (name, told[-500:])
        assert code == 0 or len(told.splitlines()) == 1, (name, told[-500:])
    assert sum(code == 0 for code, _ in ends) >= 4


# --- lines


def to_and_fro(count: int) -> list[list[float]]:
    lon, lat = DEMO["property"]["center"]
    return [[lon + (0.05 if i % 2 else -0.05), lat - 0.05 + 0.1 * i / count] for i in range(count)]


@pytest.mark.parametrize("kind", ["lane", "corridor", "draw"])
def test_a_line_that_nobody_could_walk_is_refused(kind):
    document = copy.deepcopy(DEMO)
    line = next(f for f in document["features"] if f["properties"]["kind"] == kind)
    line["geometry"]["coordinates"] = to_and_fro(2000)
    with pytest.raises(BadProperty, match=r"km long, over 100"):
        read_document(document, "x.json")


def test_an_outline_that_goes_to_and_fro_is_refused():
    document, (lon, lat) = copy.deepcopy(DEMO), DEMO["property"]["center"]
    bed = next(f for f in document["features"] if f["properties"]["kind"] == "bedding")
    around = [2 * math.pi * i / 2000 for i in range(2000)]
    ring = [
        [lon + 0.05 * (1 if i % 2 else 0.5) * math.cos(a), lat + 0.05 * math.sin(a)]
        for i, a in enumerate(around)
    ]
    bed["geometry"]["coordinates"] = [[*ring, ring[0]]]
    with pytest.raises(BadProperty, match=r"km long, over 100"):
        read_document(document, "x.json")


def test_a_walk_of_more_than_a_day_is_refused_with_its_pace():
    document = copy.deepcopy(DEMO)
    document["property"]["sit"]["walk_mph"] = 0.2
    lane = next(f for f in document["features"] if f["properties"]["kind"] == "lane")
    lane["geometry"]["coordinates"] = to_and_fro(4)
    lane["properties"].pop("minutes", None)
    with pytest.raises(BadProperty) as caught:
        read_document(document, "x.json")
    assert "walk_mph 0.2" in caught.value.what and f"over {LONGEST_WALK_MIN:g}" in caught.value.what
    lane["properties"]["minutes"] = 600  # one's own time holds
    read_document(document, "x.json")
