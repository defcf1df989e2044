"""JSON bodies that keep their syntax and lose their sense: a table or an own error."""

import copy
import json
import random
from pathlib import Path

import numpy as np
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from core.errors import StandWindError
from core.weather.files.recognise import read_weather

FOLDER = Path(__file__).with_name("forecast")
BODIES = []
for path in sorted(FOLDER.glob("*.json")):
    try:
        BODIES.append(json.loads(path.read_bytes()))
    except ValueError:
        continue  # the page and the half file
ODD = (
    None,
    True,
    False,
    0,
    -1,
    5,
    1e308,
    -1e308,
    10**30,
    "",
    "x",
    "5 mph",
    "NW",
    [],
    {},
    [None],
    [[]],
    {"value": None},
    {"unitCode": 5, "value": "x"},
    "2026-10-12T06:00:00+00:00/PT1H",
    "2026-10-12T06:00:00-05:00",
    "9999-12-31T23:00:00+00:00",
    "0001-01-01T00:00:00+14:00",
    "2026-10-12T06:00:00+00:00/P9999D",
    "\u0000",
    "wmoUnit:rad",
)


def places(node, path=()):
    """The paths of all that a body holds."""
    yield path
    if isinstance(node, dict):
        for key, value in node.items():
            yield from places(value, (*path, key))
    elif isinstance(node, list):
        for index, value in enumerate(node):
            yield from places(value, (*path, index))


def changed(body, dice):
    path = dice.choice(list(places(body))[1:] or [()])
    if not path:
        return dice.choice(ODD)
    parent = body
    for key in path[:-1]:
        parent = parent[key]
    what = dice.choice(("put", "put", "drop", "twice"))
    if what == "put":
        parent[path[-1]] = copy.deepcopy(dice.choice(ODD))
    elif what == "drop":
        del parent[path[-1]]
    elif isinstance(parent, list):
        parent.append(copy.deepcopy(parent[path[-1]]))
    return body


@settings(max_examples=400, suppress_health_check=list(HealthCheck))
@given(some.sampled_from(range(len(BODIES))), some.integers(0, 2**32 - 1), some.integers(1, 4))
def test_a_body_without_sense_ends_in_a_table_or_an_own_error(which, seed, times):
    dice = random.Random(seed)
    body = copy.deepcopy(BODIES[which])
    for _ in range(times):
        body = changed(body, dice)
    try:
        hours = read_weather(json.dumps(body).encode(), "body.json")
    except StandWindError as fault:
        assert str(fault)
        return
    assert (np.diff(hours.start_s) > 0).all()
    speed = hours.speed_mps[~np.isnan(hours.speed_mps)]
    assert ((speed >= 0) & (speed <= 113)).all()
