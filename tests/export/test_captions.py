"""Lines of text: widths against real faces as drawn by another program, and breaking."""

import shutil
import subprocess

import pytest
from hypothesis import given, settings, strategies as st

from platekit.export.captions import LINE_EM, text_line, text_width_px, wrapped
from tests.export.pictures import needs_rsvg, rendered

LINES = (
    "bearing plate bottom",
    "Sheet 12: 900 \N{MULTIPLICATION SIGN} 600 mm",
    "birch plywood 6 mm, measures 6.35 mm, kerf 0.24 mm",
    "8 pieces, 84 % filled, 895 mm of its length used",
    "MOTOR PLATE AND ALL THE REST OF IT_",
    "iiiiillllljjjjj.,:;'|!()[]/-",
    "mmmmmwwwwwMMMMMWWWWW%%%@@@",
    "abcdefghijklmnopqrstuvwxyz",
    "ABCDEFGHIJKLMNOPQRSTUVWXYZ",
    '0123456789=+#&~<>?"',
)


def families():
    """Return the faces to try: what the machine takes for sans-serif, and common ones it has."""
    known = ""
    if shutil.which("fc-list"):
        done = subprocess.run(
            ["fc-list", ":", "family"], check=True, capture_output=True, text=True
        )
        known = done.stdout
    common = ("DejaVu Sans", "Liberation Sans", "Nimbus Sans", "Noto Sans", "Verdana", "Arial")
    return ("sans-serif", *(name for name in common if name in known))


@needs_rsvg
@pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
@pytest.mark.parametrize("family", families())
def test_no_face_runs_wider_than_we_think(family, bold, tmp_path):
    """The ink rsvg draws for a line stays within the width reckoned, and fills half of it."""
    size = 20.0
    drawn = [
        text_line(line, x_px=10, y_px=40 * (k + 1), size_px=size, colour="#000000", bold=bold)
        for k, line in enumerate(LINES)
    ]
    height = 40 * (len(LINES) + 1)
    pixels = rendered(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="900" height="{height}" '
        f'font-family="{family}">{"".join(drawn)}</svg>',
        tmp_path,
    )
    for k, line in enumerate(LINES):
        rows = pixels[40 * (k + 1) - 25 : 40 * (k + 1) + 10]
        columns = (rows.min(axis=(0, 2)) < 128).nonzero()[0]
        reckoned = text_width_px(line, size_px=size, bold=bold)
        assert columns[-1] + 1 - 10 <= reckoned, line
        assert columns[-1] + 1 - 10 >= reckoned / 2, line
        # Nothing above the line's share of the height either: the next line is free.
        assert LINE_EM * size >= (rows.min(axis=(1, 2)) < 128).sum(), line


@settings(derandomize=True, deadline=None)
@given(
    text=st.text(alphabet="abw M,%\N{NO-BREAK SPACE}\N{SNOWMAN}", max_size=40),
    width=st.floats(1.0, 400.0),
    bold=st.booleans(),
)
def test_lines_fit_and_lose_no_letter(text, width, bold):
    """Every line fits or is one letter; put together again, only breaking spaces are gone."""
    lines = wrapped(text, width_px=width, size_px=18, bold=bold)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    for line in lines:
        assert len(line) == 1 or text_width_px(line, size_px=18, bold=bold) <= width


def test_words_stay_whole_while_they_fit():
    """It breaks at spaces, and never at one that must not break."""
    room = text_width_px("bearing plate", size_px=18)
    assert wrapped("bearing plate bottom", width_px=room, size_px=18) == ("bearing plate", "bottom")
    held = "5\N{NO-BREAK SPACE}mm"
    room = text_width_px("used 5", size_px=18)
    assert wrapped(f"used {held}", width_px=room, size_px=18) == ("used", held)
