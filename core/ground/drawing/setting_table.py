"""The numbers and clock times of a property's rules that its owner may set, one by one."""

from dataclasses import dataclass

from core.units import MPS_PER_MPH

CP = "common practice, no source"
MPH = 1.0 / MPS_PER_MPH
LIMITS = "limits"  # of the criticism


@dataclass(frozen=True)
class Setting:
    """One number or clock time of the rules: where it lies, its default, what it does.

    `default` is in the file's unit; `shown_as` is what one of it is on a screen, as miles an
    hour of a meter a second.
    """

    group: str  # of the property file
    name: str
    label: str
    default: float | str
    does: str
    source: str = CP
    step: float = 1.0
    shown_as: float = 1.0
    whole: bool = False


SETTINGS = (
    Setting("sit", "morning_end", "You climb down in the morning", "10:30", "The morning ends."),
    Setting("sit", "evening_h", "Hours of an evening sit", 3.5, "Back from legal end.", step=0.25),
    Setting("sit", "settle_min", "Minutes in the stand before light", 30.0, "You are seated then."),
    Setting("sit", "gear_up_min", "Minutes to gear up", 10.0, "At the truck so much sooner."),
    Setting(
        "sit",
        "walk_mph",
        "Walking speed in the dark, mph",
        1.5,
        "Ways without minutes of your own.",
        step=0.1,
    ),
    Setting("sit", "apart_yd", "Two hunters sit so many yards apart", 150.0, "Nearer is no seat."),
    Setting(
        "sit", "pass_yd", "Nobody walks past another nearer than, yards", 50.0, "Nearer is no way."
    ),
    Setting(
        "sit",
        "out_stay_within_yd",
        "A way out keeps you out under, yards",
        100.0,
        "Air on deer on the way home; 0 never does.",
    ),
    Setting(
        "air",
        "wrong_within_yd",
        "Wrong wind: your air like so many yards or less",
        250.0,
        "A bed or food reached so strongly is wrong.",
        "no study sets this distance",
        10.0,
    ),
    Setting(
        "air",
        "clean_beyond_yd",
        "Clean: your air like more than so many yards",
        500.0,
        "Between the two it is just-off.",
        "no study sets this distance",
        10.0,
    ),
    Setting(
        "air",
        "trail_within_yd",
        "On a trail: your air like so many yards or less",
        75.0,
        "Deer meet it before the shot.",
    ),
    Setting(
        "air",
        "trail_shot_times",
        "Or so many times the yards to the trail",
        3.5,
        "The larger of the two counts.",
        step=0.5,
    ),
    Setting(
        "air",
        "cant_call_below_mps",
        "Can't call under, mph",
        1.3,
        "Light air has no direction that lasts.",
        "2.5 knots, below which airports report calm",
        0.1,
        MPH,
    ),
    Setting(
        "air",
        "slope_wind_mps",
        "Slope wind of a 20 % slope, mph",
        0.7,
        "How strongly air slides and climbs.",
        "no published value for small hills",
        0.1,
        MPH,
    ),
    Setting(
        "air",
        "slope_fades_at_mps",
        "Slope wind is gone at a wind of, mph",
        5.4,
        "A stronger wind overrules the slope.",
        "no published value for small hills",
        0.1,
        MPH,
    ),
    Setting(
        "air",
        "lee_deg",
        "Wind rolls back behind falls from, degrees",
        15.0,
        "Where heights show such a fall upwind of a stand, its air is not called.",
        "separation behind ridges, second-hand",
    ),
    Setting(
        "air",
        "turn_min",
        "Slope wind turns, minutes before and after",
        20,
        "Air has no one direction for so long on either side of its turn.",
        whole=True,
    ),
    Setting(
        "air",
        "turn_told_deg",
        "A smaller swing than so many degrees is not told",
        20.0,
        "Of air that turns.",
        step=5.0,
    ),
    Setting(
        "air",
        "forecast_miss_times",
        "Forecasts miss so many times as far here",
        1.0,
        "How likely a sit holds; what comes of your own moves it.",
        step=0.1,
    ),
    Setting(
        "sit",
        "spot_off_bed_yd",
        "A next stand keeps off a bed, yards",
        60.0,
        "Season gives no nearer spot without saying so.",
        step=10.0,
    ),
    Setting(
        "sit",
        "spot_off_seat_yd",
        "A next stand keeps off a seat that is there, yards",
        60.0,
        "Season gives no nearer spot without saying so.",
        step=10.0,
    ),
    Setting(
        LIMITS, "close_shot_yd", "A shot nearer than, yards", 10.0, "Drawing is seen so close."
    ),
    Setting(LIMITS, "widest_ft", "A trail wider than, feet", 3.0, "It reads as open.", step=0.5),
    Setting(
        LIMITS, "narrowest_ft", "A trail narrower than, feet", 2.0, "Branches brush.", step=0.5
    ),
    Setting(
        LIMITS,
        "no_exit_over_yd",
        "A trail without a side exit longer than, yards",
        300.0,
        "Deer feel boxed in.",
        step=10.0,
    ),
    Setting(
        LIMITS,
        "trail_within_yd",
        "No trail within so many yards of a bed",
        50.0,
        "Nothing says how deer leave it.",
        step=10.0,
    ),
    Setting(LIMITS, "bed_acres", "A bed over so many acres", 10.0, "Deer lie in parts of it."),
    Setting(
        LIMITS,
        "truck_off_bed_yd",
        "A truck within so many yards of a bed",
        250.0,
        "Doors and engines reach it.",
        step=10.0,
    ),
    Setting(
        LIMITS,
        "walk_dark_yd",
        "A way by a bed or food in the dark within, yards",
        60.0,
        "Steps are heard.",
        step=10.0,
    ),
    Setting(
        LIMITS,
        "walk_day_yd",
        "A way by a bed by day within, yards",
        100.0,
        "A walker is seen and heard.",
        step=10.0,
    ),
)


def told(setting: Setting, value: float | str) -> str:
    """A value as a screen shows it. Args: the setting; the value as the file has it."""
    if isinstance(value, str):
        return value
    return f"{value:g}" if setting.shown_as == 1 else f"{value * setting.shown_as:.1f}"


def stored(setting: Setting, typed: float) -> float:
    """A number as the file has it. Args: the setting; as typed on a screen.

    What is shown of the default is the default.
    """
    if f"{typed:.1f}" == told(setting, setting.default):
        return float(setting.default)
    value = typed / setting.shown_as
    return round(value) if setting.whole else value
