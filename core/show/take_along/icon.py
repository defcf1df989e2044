"""The picture under which a phone keeps the program or a page on its home screen.

A mark that is clean, the wind from the left before it. PNG, because that is what phones
take; drawn here, so that it comes from nowhere else.
"""

import base64
import functools
import io

from core.show.palette import DARK

PHONE_PX = 180  # what phones ask for; they scale it
FINER = 4  # drawn larger and made small, for smooth edges
# in hundredths of the side: the mark's middle and radius; each line of wind: left, right, down
MARK = (62, 52, 22)
WIND = ((12, 34, 38), (12, 30, 52), (12, 34, 66))
THICK = 6


@functools.cache
def icon_png(side_px: int = PHONE_PX) -> bytes:
    """The picture as PNG. Args: its side [px]."""
    from PIL import Image, ImageDraw

    large = side_px * FINER
    part = large / 100
    picture = Image.new("RGB", (large, large), DARK.paper)
    pen = ImageDraw.Draw(picture)
    x, y, r = (value * part for value in MARK)
    pen.ellipse((x - r, y - r, x + r, y + r), fill=DARK.blue)
    for left, right, down in WIND:
        half = THICK * part / 2
        box = (left * part, down * part - half, right * part, down * part + half)
        pen.rounded_rectangle(box, radius=half, fill=DARK.ink)
    out = io.BytesIO()
    small = picture.resize((side_px, side_px), Image.Resampling.LANCZOS)
    small.quantize(32).save(out, "PNG", optimize=True)
    return out.getvalue()


def icon_address(side_px: int = PHONE_PX) -> str:
    """The picture as an address that holds it. Args: its side [px]."""
    return f"data:image/png;base64,{base64.b64encode(icon_png(side_px)).decode()}"
