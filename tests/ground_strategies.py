"""Hypothesis strategies for property files: any words, numbers and unknown members."""

from hypothesis import strategies as st

from core.ground import layout
from core.ground.kinds import MARKS
from tests import ground_files as g

KNOWN = {
    "kind",
    "name",
    "notes",
    "id",
    "type",
    "geometry",
    "properties",
    "features",
    "property",
    "crs",
    "format",
    "version",
    "coordinates",
}

words = st.text(st.characters(codec="utf-8"), max_size=12)
json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | words
    | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(words, inner, max_size=3),
    max_leaves=6,
)
unknown = st.dictionaries(
    words.map(lambda word: f"x-{word}").filter(lambda name: name not in KNOWN),
    json_values,
    max_size=3,
)
yards = st.integers(-4000, 4000)
directions = st.lists(st.lists(st.floats(0, 360), min_size=2, max_size=2), min_size=1, max_size=3)
STAND = st.fixed_dictionaries(
    {},
    optional={
        "seat": st.sampled_from(layout.SEATS),
        "height_ft": st.floats(0, 100),
        "cover": st.sampled_from(layout.COVERS),
        "range_yd": st.integers(1, 400),
        "lies": st.sampled_from(layout.LIES),
        "swirls": st.fixed_dictionaries(
            {}, optional={"from_deg": directions, "under_mph": st.floats(0.1, 40)}
        ),
        "wanted": st.fixed_dictionaries(
            {},
            optional={
                "morning": st.sampled_from(layout.WANTED),
                "by_part": st.dictionaries(words, st.just({"evening": "good"}), max_size=2),
            },
        ),
        "closed": st.booleans(),
        "guest_ok": st.booleans() | st.none(),
        "notes": words,
    },
)
AREA = st.fixed_dictionaries(
    {},
    optional={
        "held": st.sampled_from(layout.HELD),
        "months": st.lists(st.integers(1, 12), min_size=1),
        "with_wind_deg": directions,
        "who": words,
    },
)


def _with_unknown(draw, feature: dict) -> dict:
    """The feature with members of other programs at each of its levels."""
    feature["properties"].update(draw(unknown))
    feature["geometry"].update(draw(unknown))
    return {**draw(unknown), **feature, **draw(unknown)}


@st.composite
def features(draw, id_: str) -> dict:
    """One feature of any kind but a lane, somewhere within 4,000 yd."""
    east, north = draw(yards), draw(yards)
    kind = draw(st.sampled_from(["stand", "bedding", "food", "corridor", *MARKS]))
    name = draw(words)
    if kind == "stand":
        made = g.stand(id_, east, north, **draw(STAND))
    elif kind in ("bedding", "food"):
        properties = draw(AREA)
        if kind == "food":
            properties = {k: v for k, v in properties.items() if k in ("held", "months")}
        made = g.area(id_, kind, g.square(east, north, draw(st.integers(1, 500))), **properties)
        if draw(st.booleans()):  # wound the wrong way
            made["geometry"]["coordinates"][0].reverse()
    elif kind == "corridor":
        made = g.corridor(id_, [(east, north), (east + draw(st.integers(1, 300)), north)])
    else:
        made = g.feature(id_, kind, "Point", g.lonlat(east, north))
    made["properties"]["name"] = name
    return _with_unknown(draw, made)


@st.composite
def documents(draw) -> dict:
    """A whole property file that can be opened."""
    drawn = [draw(features(f"f-{i}")) for i in range(draw(st.integers(0, 4)))]
    stands = [item["id"] for item in drawn if item["properties"]["kind"] == "stand"]
    if stands:
        drawn.append(g.lane("way", [(0, 900), (0, draw(st.integers(-800, 800)))], stands))
    document = g.document(*drawn, name=draw(words.filter(str.strip)))
    document["property"].update(draw(unknown))
    document["property"]["seasons"][0].update(draw(unknown))
    return {**draw(unknown), **document, **draw(unknown)}
