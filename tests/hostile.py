"""Names that would be markup, code, links or orders to a terminal, and grounds full of them."""

import itertools
import json
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
# what a name is called here: the name
NAMES = {
    "script": "<script>window.ran=1;alert(1)</script>",
    "image": '"><img src=x onerror="window.ran=1">',
    "attribute": "' onmouseover='window.ran=1' x=\"",
    "closing": "</text></svg></title></style><b>",
    "template": "{{ 7*7 }}{% include 'x' %}{# x #}",
    "entity": "&amp;&lt;b&gt;&#60;i>",
    "web address": "https://evil.example/x",
    "bare address": "www.evil.example",
    "mail address": "a@evil.example",
    "other addresses": "mailto:a@evil.example xmpp:a@evil.example",
    "markdown": "**b** _i_ `c` [l](http://evil.example) ![i](http://evil.example/i.png)",
    "blocks": "# h | - li > q",
    "of streamlit": ":red[x] :material/home: :streamlit: $x^2$",
    "signs": "a -> b <- c -- d <= e",
    "code block": "    code",
    "escape code": "\x1b[31mred\x1b]0;title\x07",
    "c1 and nul": "\x9b31m\x00\x7f",
    "directions": "\u202egnp.exe\u202c \u2066x\u2069 \u200f\u061c",
    "lines": "one\ntwo\r\n\u2028three\tfour",
    "formula": "=HYPERLINK(1)",
    "formula behind a tab": "\t+1",
    "formula behind a blank": " @x",
}
# nothing of these may reach a terminal, a drawing or a page; the line's own end aside
OBEYED = {*map(chr, range(32)), *map(chr, range(127, 160)), *"\u200e\u200f\u061c\u2028\u2029"} | {
    *map(chr, range(0x202A, 0x202F)),
    *map(chr, range(0x2066, 0x206A)),
}
KEPT = {"orchard-corner", "dry-fork"}  # stands of the small ground
FEW = {"bedding": 2, "food": 1, "corridor": 2, "truck": 1, "sign": 1}


def demo() -> dict:
    """The demo's document."""
    return json.loads((ROOT / "demo_property.json").read_text(encoding="utf-8"))


def spiked(document: dict, names) -> dict:
    """A document with some names, one after the other, in place of all its words.

    Each is followed by what tells it from the others.
    """
    turn = itertools.cycle(names)
    rules = document["property"]
    rules["name"] = f"{next(turn)} farm"
    for season in rules["seasons"]:
        season["rule"] = next(turn)
    for person in rules["people"]:
        person["phone"] = f"{next(turn)} {person['phone']}"
        person["name"] = f"{next(turn)} {person['name']}"
    for part in rules["parts"]:
        part["name"] = f"{next(turn)} {part['name']}"
    for feature in document["features"]:
        own = feature["properties"]
        own["name"] = f"{next(turn)} {feature['id']}"
        own["notes"] = next(turn)
    return document


def small(names) -> dict:
    """A ground of two stands with such names."""
    document, left = demo(), dict(FEW)
    features = []
    for feature in document["features"]:
        own = feature["properties"]
        kind = own["kind"]
        if kind == "lane":
            own["stands"] = [s for s in own["stands"] if s in KEPT]
        wanted = feature["id"] in KEPT or (kind == "lane" and own["stands"])
        if wanted or left.get(kind, 0) > 0:
            left[kind] = left.get(kind, 0) - 1
            features.append(feature)
    return spiked({**document, "features": features}, names)


def log_of(names, stand: str) -> list:
    """Entries of every kind with such names in all their words. Args: names; id of a stand."""
    from core.keep.entries import KINDS, SEEN, SIT, entry_of

    turn = itertools.cycle(names)
    told = {"verdict": next(turn), "source": next(turn), "reasons": list(names)}
    sits = [
        entry_of(
            SIT, f"2026-11-0{day}",
            {"stand": stand, "sit": "morning", "planned": day == 9, "told": told,
             "who": next(turn), "wind": next(turn), "text": next(turn), "nothing_seen": True},
        )
        for day in range(2, 10)
    ]  # fmt: skip
    words = {
        SEEN: lambda: {"came_from": next(turn), "went_to": next(turn), "trail": next(turn)},
        "sign": lambda: {"what": "rub", "feature": next(turn)},
        "work": lambda: {"what": next(turn), "feature": next(turn)},
        "harvest": lambda: {"tag": next(turn), "stand": next(turn)},
    }
    each = [(kind, n) for kind in KINDS if kind != SIT for n in range(len(tuple(names)))]
    more = [
        entry_of(kind, "2026-11-08", {**words.get(kind, dict)(), "text": next(turn)})
        for kind, n in each
    ]
    return [*sits, *more]
