"""The words of the screens, each in a sentence or two of our own."""

from dataclasses import dataclass

from core.ground.layout import AirRules, SitRules
from core.units import MPS_PER_MPH


@dataclass(frozen=True, slots=True)
class Word:
    """A word and what it means here. `kind` says where it belongs."""

    key: str
    word: str
    means: str
    kind: str


GROUND, WIND, ANSWER, CLOCK = "The ground", "Wind and air", "The answer", "The clock"
KINDS = (GROUND, WIND, ANSWER, CLOCK)

# {wrong}, {clean}, {near}, {times}, {turn}, {light}, {settle} and {evening} are
# settings of the property in use
_WORDS = (
    (
        "property",
        "Property",
        "The ground you hunt, with its rules and settings. It is one file.",
        GROUND,
    ),
    (
        "stand",
        "Stand",
        "A place where a hunter sits: in a tree, in a box, or on the ground.",
        GROUND,
    ),
    (
        "way-in",
        "Way in, way out",
        "The path you walk from the truck to the stand, and back. The map calls it a lane.",
        GROUND,
    ),
    (
        "trail",
        "Trail",
        "A cleared path that deer walk. The map calls it a corridor. One end is at "
        "a bed, the other at food.",
        GROUND,
    ),
    ("bed", "Bed", "Thick cover where deer lie, mostly by day.", GROUND),
    ("food", "Food", "A plot, field or grove where deer feed, mostly at night.", GROUND),
    (
        "held",
        "Held",
        "The hours in which we count on deer in a bed or on food. Outside them a "
        "place counts one step milder. The hours are common practice.",
        GROUND,
    ),
    (
        "swirls",
        "Swirls",
        "A seat where the wind turns back on itself. Only the owner can know; mark it on the map.",
        GROUND,
    ),
    (
        "wind-from",
        "Wind from",
        "A wind is named for where it comes from. A north wind comes out of the north.",
        WIND,
    ),
    (
        "air-goes",
        "Your air goes to",
        "Where the wind carries the air that has passed over you: the "
        "far side from where the wind comes.",
        WIND,
    ),
    ("upwind", "Upwind", "On the side the wind comes from. Air from there comes to you.", WIND),
    ("crosswind", "Crosswind", "Off to the side of the wind.", WIND),
    ("downwind", "Downwind", "On the side your air goes to.", WIND),
    (
        "like",
        "Like N yards straight downwind",
        "How much of your air a place gets. It gets as much as a spot N yards "
        "straight downwind of you in an open field, on the ground, in a 6 mph wind. "
        "A small number is a lot of air.",
        WIND,
    ),
    (
        "slope-air",
        "Slope air",
        "On still nights cold air slides down a slope. With the sun on it, "
        "air climbs. A steady wind blows that away.",
        WIND,
    ),
    (
        "typical-day",
        "Typical day",
        "Winds of a usual year at Greensboro, for practice. It is not a forecast.",
        WIND,
    ),
    (
        "turn",
        "The turn, turning",
        "Slope air changes between climbing and sliding when the sun leaves a slope or comes "
        "onto it. That minute is the turn. From {turn} minutes before it to {turn} after, your "
        "air counts as turning: it may swing over all that lies between. The minutes are common "
        "practice.",
        WIND,
    ),
    (
        "on-it",
        "On a trail, beside it",
        "On it: before the shot deer walk into your air, as strong as like {near} yards, or "
        "{times} times as far as the trail is where that is more. Beside it: weaker, but nearer "
        "than like {wrong} yards. The numbers are common practice.",
        WIND,
    ),
    (
        "wander",
        "Wander of an hour",
        "Within an hour the air strays to both sides, the lighter the wind the farther. So in "
        "light wind your air is judged over a wider angle.",
        WIND,
    ),
    (
        "clean",
        "Clean",
        "No bed or food that counts gets your air nearer than like {clean} yards, and no trail "
        "before the shot nearer than like {wrong}. No study sets these distances.",
        ANSWER,
    ),
    (
        "just-off",
        "Just-off",
        "Your air comes near a bed or food, between like {wrong} and like {clean} yards. Or it "
        "lies beside a trail before the shot, or on one while another is free. Hunters sit it on "
        "purpose, with care.",
        ANSWER,
    ),
    (
        "wrong-wind",
        "Wrong wind",
        "A bed or food that deer hold gets your air, nearer than like {wrong} yards. Or your air "
        "lies on every trail in range before the shot. No study sets this distance.",
        ANSWER,
    ),
    (
        "cant-call",
        "Can't call",
        "The ways that your air may take differ: one is good and another wrong. It may go any way "
        "in a calm, in a wind of no set direction or under {light} mph, in a bottom, and at a "
        "seat that swirls. It swings where slope air turns.",
        ANSWER,
    ),
    (
        "go",
        "Go",
        "The sit can be hunted in this wind. It does not promise a deer, and it does not "
        "say that a shot is safe.",
        ANSWER,
    ),
    ("stay-out", "Stay out", "Leave this stand alone now, and the reason is said.", ANSWER),
    (
        "before-shot",
        "Before the shot",
        "The 150 yards of trail that deer walk before they come in range. "
        "In the morning from the food end, in the evening from the bed end. The 150 yards are "
        "common practice.",
        ANSWER,
    ),
    (
        "to-spare",
        "To spare",
        "How many degrees the wind can turn before this stand is no longer go.",
        ANSWER,
    ),
    (
        "holds",
        "Holds, may hold, toss-up",
        "In how many of ten a go stays go when the wind misses its forecast as forecasts do: "
        "three in four or more, half or more, under half. About wind, not deer.",
        ANSWER,
    ),
    (
        "plan-b",
        "Plan B",
        "The stand that covers most of the mornings on which the first choice does not hold.",
        ANSWER,
    ),
    ("rested", "Rested", "How long a stand was left alone. Rest days are a setting.", ANSWER),
    (
        "common-practice",
        "Common practice",
        "What many hunters do. No test stands behind it. You can change it.",
        ANSWER,
    ),
    (
        "sit",
        "Sit",
        "One stand on one date: morning, evening or all day. An evening is the last "
        "{evening} hours of legal light.",
        CLOCK,
    ),
    (
        "legal-light",
        "Legal light",
        "The hours in which your rule lets you hunt. The rule is your "
        "setting: check it with your state.",
        CLOCK,
    ),
    (
        "first-last-light",
        "First and last light",
        "The first two hours of legal light and the last "
        "90 minutes. They decide the sit, for deer move most then.",
        CLOCK,
    ),
    (
        "leave-by",
        "Leave by",
        "When to be down, before the wind goes wrong: 15 minutes before it does.",
        CLOCK,
    ),
    ("not-before", "Not before", "The soonest time to be seated, after a wrong hour.", CLOCK),
    ("seated", "Seated", "In the stand and still, {settle} minutes before legal light.", CLOCK),
)


def words(air: AirRules | None = None, sit: SitRules | None = None) -> tuple[Word, ...]:
    """Every word, with the settings of a property in it.

    Args: the rules of the property in use; the defaults where None.
    """
    air, sit = air or AirRules(), sit or SitRules()
    numbers = {
        "wrong": f"{air.wrong_within_yd:.0f}",
        "clean": f"{air.clean_beyond_yd:.0f}",
        "near": f"{air.trail_within_yd:.0f}",
        "times": f"{air.trail_shot_times:g}",
        "turn": f"{air.turn_min:.0f}",
        "light": f"{air.cant_call_below_mps / MPS_PER_MPH:.0f}",
        "settle": f"{sit.settle_min:.0f}",
        "evening": f"{sit.evening_h:g}",
    }
    return tuple(Word(k, w, means.format(**numbers), kind) for k, w, means, kind in _WORDS)


def word_of(key: str) -> str:
    """The word of a key. Args: the key. Raises: KeyError."""
    return {k: w for k, w, _, _ in _WORDS}[key]
