"""The lee of the beds in words."""

from core.chores.lee import Lee
from core.ground.layout import Property


def lee_text(lee: Lee, ground: Property) -> str:
    """What is known of it, and that nobody has tested it. Args: it; the ground."""
    return (
        f"{ground.name_of(lee.trail)} runs along the downwind side of {ground.name_of(lee.bed)} "
        "in this wind: some hunters count on a buck there; nobody has tested it. It changes "
        "nothing here."
    )
