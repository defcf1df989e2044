"""What is known of a sit before anyone knows the wind, in words."""

from core.answer.without_wind import Wants
from core.say.what_would_change import winds_text
from core.say.words import at_time, place_text
from core.sit.prepare import Sit


def wants_line(wants: Wants) -> str:
    """The winds that a stand wants. Args: what is known of it."""
    return winds_text(wants.works) + ("" if wants.works.any() else " of this strength")


def ways_line(sit: Sit, wants: Wants) -> str:
    """When to leave by which way. Args: the sit; what is known of the stand."""
    if not wants.ways:
        return "No way in drawn."
    told = (
        f"leave {at_time(sit, way.leave_s)} by {way.name} "
        f"({place_text(way.length_m)}, {way.minutes} min)"
        for way in wants.ways
    )
    line = "; ".join(told)
    return f"{line[0].upper()}{line[1:]}."
