"""One criticism of a ground: what was measured where, and why it matters.

The numbers are common practice, with no source, unless a finding names one.
"""

from dataclasses import dataclass

from core.references import citation

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Finding:
    """A criticism, with its measure."""

    id: str  # of the feature
    name: str
    code: str
    value: float
    unit: str
    text: str
    why: str
    source: str = COMMON_PRACTICE
    other: str = ""  # id of the feature it clashes with

    @property
    def key(self) -> str:
        """What `accepted` of the property holds to keep it quiet."""
        return ":".join(part for part in (self.code, self.id, self.other) if part)

    @property
    def is_smaller(self) -> bool:
        """Whether it can wait for the season's work."""
        return self.code in SMALLER


WHY = {
    "corridor-wide": "A wide lane reads as open ground: deer slow down, or keep beside it.",
    "corridor-narrow": "Branches that brush a deer's sides turn it off the path.",
    "corridor-no-exit": "Deer feel boxed in without a way off to the side. Cut one; if trees are "
    "hinged, across the path, only here and there.",
    "stand-no-shot": "There is nothing to shoot at from here.",
    "shot-far": "The shot is longer than this stand's own limit.",
    "shot-close": "So close, drawing is seen and the angle down is steep.",
    "stand-no-way-in": "Without a drawn way in nobody can say what the walk gives away.",
    "stand-in-bed": "Deer are under the stand by day: getting in moves them.",
    "stand-near-line": "A shot, or a deer that runs, may end on the neighbor's ground.",
    "stand-high": "Official advice for a tree stand is to stay at 16 ft and under.",
    "stand-slope-odd": "Its air is reckoned straight down the typed slope until one of both is "
    "right: look at the ground, or take the slope of the heights (The land).",
    "lane-crosses": "Deer coming to the shot cross ground scent first.",
    "lane-near-bed-dark": "Deer in their bed hear steps in the dark.",
    "lane-near-bed-day": "Deer in their bed see and hear a walker by day.",
    "lane-through-bed": "Walking through a bed moves its deer and leaves scent in it.",
    "lane-past-food": "In the morning dark deer are still on the food.",
    "lane-leaves": "The walk crosses ground that is not yours: ask first, or move the lane.",
    "truck-near-bed": "Doors, engines and scent reach the bed before the walk begins.",
    "truck-upwind": "On the wind that blows most, the truck's scent drifts into the bed.",
    "bed-no-trail": "Nothing says how deer leave it, so no stand can be hung for them.",
    "bed-large": "Deer lie in parts of so large a patch: draw the parts where they lie.",
}
# what can wait for the season's work, and costs no sit by itself; common practice, no source
SMALLER = frozenset(
    {
        "corridor-wide",
        "corridor-narrow",
        "corridor-no-exit",
        "bed-no-trail",
        "bed-large",
        "lane-near-bed-day",
        "truck-upwind",
    }
)
SOURCES = {"stand-high": citation("mass-treestand")}


def finding(code: str, feature, value: float, unit: str, text: str, other: str = "") -> Finding:
    """A finding with the reason and source of its code.

    Args: the code, of WHY; the feature; its measure and unit; the sentence about
    it; the id of the feature it clashes with.
    """
    return Finding(
        id=feature.id,
        name=feature.name,
        code=code,
        value=value,
        unit=unit,
        text=text,
        why=WHY[code],
        source=SOURCES.get(code, COMMON_PRACTICE),
        other=other,
    )
