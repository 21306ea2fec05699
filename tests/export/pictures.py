"""Pictures by programs that know nothing of us, and their pixels."""

import shutil
import subprocess

import numpy as np
import pytest
from PIL import Image  # reportlab brings it

needs_rsvg = pytest.mark.skipif(
    shutil.which("rsvg-convert") is None, reason="rsvg-convert is not installed"
)


def rendered(svg, folder, *, dots_per_inch=254):
    """Return the picture rsvg makes of `svg` on white, uint8 of shape (height, width, 3)."""
    source, target = folder / "picture.svg", folder / "picture.png"
    source.write_text(svg, encoding="utf-8")
    dots = str(dots_per_inch)
    subprocess.run(
        ["rsvg-convert", "-d", dots, "-p", dots, "-b", "white", "-o", target, source],
        check=True,
        capture_output=True,
    )
    with Image.open(target) as picture:
        return np.asarray(picture.convert("RGB"))


def where_drawn(pixels, colour):
    """Return (left, top, right, bottom) pixel bounds of strokes of `colour` (#rrggbb) on white.

    A stroke thinner than a pixel is mixed with white, so hue decides: the pixel must lie on the
    line from white to the colour, well away from white.
    """
    ink = 255.0 - np.frombuffer(bytes.fromhex(colour[1:]), np.uint8)
    paper = 255.0 - pixels.astype(float)
    share = paper @ ink / (ink @ ink)
    off = np.linalg.norm(paper - share[..., None] * ink, axis=2)
    rows, columns = np.nonzero((share > 0.2) & (off < 12))
    return columns.min(), rows.min(), columns.max(), rows.max()
