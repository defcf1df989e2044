"""Contrast and colour-blind eyes: what the drawn colours and marks must bear.

Contrast: Web Content Accessibility Guidelines 2.1, W3C 2018, "contrast ratio" and
"relative luminance"; 1.4.3 asks 4.5 to 1 for text, 1.4.11 asks 3 to 1 for graphics.
Colour-blindness: Machado, Oliveira and Fernandes, IEEE Transactions on Visualization
and Computer Graphics 15(6), 2009, the matrices for severity 1.0, on linear RGB.
"""

import itertools

import numpy as np
import pytest

from core.show.marks import mark_image
from core.show.palette import DARK, PRINT

SEEN_BY = {
    "all": np.eye(3),
    "protan": np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    "deutan": np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    "tritan": np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}
LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
TEXT, GRAPHIC = 4.5, 3.0
LEAST_APART = 0.10  # of black to white, root mean square over a mark's pixels


def linear(rgb) -> np.ndarray:
    part = np.asarray(rgb, float) / 255.0
    return np.where(part <= 0.03928, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)


def of_hex(colour: str) -> np.ndarray:
    return linear([int(colour[i : i + 2], 16) for i in (1, 3, 5)])


def contrast(a: np.ndarray, b: np.ndarray) -> float:
    high, low = sorted((float(LUMINANCE @ a), float(LUMINANCE @ b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_of_black_on_white_is_21():
    assert contrast(of_hex("#000000"), of_hex("#FFFFFF")) == pytest.approx(21.0)


@pytest.mark.parametrize("eyes", SEEN_BY)
@pytest.mark.parametrize("colours", [DARK, PRINT], ids=["dark", "print"])
def test_words_and_shapes_stand_out(colours, eyes):
    def seen(colour):
        return np.clip(SEEN_BY[eyes] @ of_hex(colour), 0.0, 1.0)

    paper = seen(colours.paper)
    for name in ("ink", "soft"):
        assert contrast(seen(getattr(colours, name)), paper) >= TEXT, name
    for name in ("blue", "earth", "leaf", "trail"):
        assert contrast(seen(getattr(colours, name)), paper) >= GRAPHIC, name


@pytest.fixture(scope="module")
def drawn(chromium, tmp_path_factory):
    """Every mark as Chromium draws it: (palette, verdict) -> linear RGB, (y, x, 3)."""
    from PIL import Image

    folder, found = tmp_path_factory.mktemp("marks"), {}
    tab = chromium.new_page(viewport={"width": 60, "height": 60}, device_scale_factor=2)
    for name, colours in (("dark", DARK), ("print", PRINT)):
        for verdict in range(4):
            tab.set_content(
                f'<body style="margin:0;background:{colours.paper}">{mark_image(verdict, colours)}'
            )
            path = folder / f"{name}{verdict}.png"
            tab.screenshot(path=path, clip={"x": 0, "y": 0, "width": 18, "height": 18})
            found[name, verdict] = linear(np.asarray(Image.open(path).convert("RGB")))
    tab.close()
    return found


@pytest.mark.parametrize("eyes", SEEN_BY)
@pytest.mark.parametrize("palette", ["dark", "print"])
def test_marks_are_told_apart_without_colour(drawn, palette, eyes):
    grey = {v: np.clip(drawn[palette, v] @ SEEN_BY[eyes].T, 0, 1) @ LUMINANCE for v in range(4)}
    colours = {"dark": DARK, "print": PRINT}[palette]
    span = abs(float(LUMINANCE @ (of_hex(colours.blue) - of_hex(colours.paper))))
    for a, b in itertools.combinations(range(4), 2):
        apart = float(np.sqrt(np.mean((grey[a] - grey[b]) ** 2))) / span
        assert apart > LEAST_APART, (a, b, apart)
