"""Lettering: every letter legible, inside its cell, upright, never mirrored."""

import math
import shutil
import subprocess

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.findings import Severity
from platekit.geometry.chains import circle
from platekit.geometry.curves import Line
from platekit.geometry.distance import distance
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.panel.holes import hole
from platekit.panel.lettering import centred_text, text_paths, text_width_mm
from platekit.panel.marking import lettering
from platekit.panel.naming import ARROW_MM, MARGIN_MM, name_marks
from platekit.panel.part import Grain
from platekit.panel.places import mirrored
from platekit.panel.plate import Plate
from platekit.panel.strokes import STROKES


@pytest.mark.parametrize("letter", sorted(set(STROKES) - {" "}))
def test_letters_fill_their_cell(letter):
    """Every stroke stays within the letter's cell (a bracket may lean half a unit out of it)."""
    width, _ = STROKES[letter]
    boxes = [path.bounds for path in text_paths(letter, height_mm=12)]
    assert min(b.left for b in boxes) >= -0.5
    assert max(b.right for b in boxes) <= max(width, 1) + 0.5
    assert min(b.bottom for b in boxes) >= -1e-9
    assert max(b.top for b in boxes) <= 12 + 1e-9


def _picture(letter: str) -> np.ndarray:
    """Distance-blurred raster of a letter, 12 x 16: alike letters give alike pictures."""
    points = []
    for path in text_paths(letter, height_mm=12):
        for segment in path.segments:
            points += [segment.at(t) for t in np.linspace(0, 1, 40)]
    x, y = np.meshgrid(np.arange(-1, 11), np.arange(-2, 14))
    gap = np.full(x.shape, np.inf)
    for px, py in points:
        gap = np.minimum(gap, np.hypot(x - px, y - py))
    return np.exp(-(gap**2))


def test_no_two_letters_look_alike():
    """Pictures of any two letters differ by a clear amount: O and 0, I and 1, 5 and S, 8 and B."""
    letters = sorted(set(STROKES) - {" ", ".", ",", ":"})
    pictures = {letter: _picture(letter) for letter in letters}
    nearest = min(
        (float(np.sum((pictures[a] - pictures[b]) ** 2)), a, b)
        for a in letters
        for b in letters
        if a < b
    )
    # The slash in a zero is the smallest difference there is; less than that would be a slip.
    assert nearest[0] > 2.0, nearest


def test_letters_are_not_mirrored():
    """B, D, E, F, K, L, P and R have their stem on the left; J and 4 do not."""
    for letter in "BDEFKLPR":
        stems = [
            s for p in text_paths(letter, height_mm=12) for s in p.segments if isinstance(s, Line)
        ]
        assert any(s.start.x == s.end.x == 0 and s.length_mm == 12 for s in stems), letter
    for letter in "J4":
        stems = [
            s for p in text_paths(letter, height_mm=12) for s in p.segments if isinstance(s, Line)
        ]
        assert all(s.start.x > 3 for s in stems if s.start.x == s.end.x), letter


def test_text_is_as_wide_and_high_as_said():
    """Strokes of a centred line reach from -width/2 to +width/2 and -height/2 to +height/2."""
    width = text_width_mm("HAND H", height_mm=6)
    boxes = [path.bounds for path in centred_text("HAND H", height_mm=6)]
    assert min(b.left for b in boxes) == pytest.approx(-width / 2)
    assert max(b.right for b in boxes) == pytest.approx(width / 2)
    assert max(b.top for b in boxes) - min(b.bottom for b in boxes) == pytest.approx(6)


def test_small_letters_become_capitals():
    """Names in small letters are written in capitals."""
    assert text_paths("rib-2", height_mm=5) == text_paths("RIB-2", height_mm=5)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: text_paths("a\u00e4", height_mm=5), "has no strokes; use spaces and"),
        (lambda: text_paths("A", height_mm=0), "height_mm is 0 mm"),
        (lambda: lettering("  "), "nothing to write"),
    ],
)
def test_unwritable_text_is_refused(make, says):
    """The message names the letter and lists those there are."""
    with pytest.raises(PartError) as caught:
        make()
    assert says in str(caught.value)


NAMED = [
    pytest.param(Profile(rectangle(140, 110)), "motor base", 6, id="plain plate"),
    pytest.param(
        Profile(rectangle(140, 110), (circle((70, 55), diameter_mm=90),)), "motor base", 6,
        id="large bore: beside it",
    ),
    pytest.param(Profile(rectangle(40, 20)), "motor base", 4, id="small plate: shrunk"),
    pytest.param(Profile(rectangle(12, 90)), "motor base", 6, id="narrow plate: upwards"),
]  # fmt: skip


@pytest.mark.parametrize(("profile", "name", "height"), NAMED)
def test_names_lie_in_the_material_clear_of_everything(profile, name, height):
    """Every stroke keeps the margin to edge and holes, measured exactly."""
    marks, findings = name_marks(profile, name)
    assert findings == ()
    assert len(marks) == len(text_paths(name, height_mm=5))
    boxes = [mark.path.bounds for mark in marks]
    extent = min(
        max(b.top for b in boxes) - min(b.bottom for b in boxes),
        max(b.right for b in boxes) - min(b.left for b in boxes),
    )
    assert extent == pytest.approx(height)
    for mark in marks:
        assert profile.contains(mark.path.start)
        assert min(distance(mark.path, ring) for ring in profile.rings) >= MARGIN_MM - 1e-9


def test_a_name_without_room_is_a_finding():
    """A 6 mm strip full of holes cannot carry a name: said, not squeezed in."""
    holes = tuple(circle((5 + 8 * k, 3), diameter_mm=3) for k in range(8))
    marks, findings = name_marks(Profile(rectangle(70, 6), holes), "long name of a strip")
    assert marks == ()
    assert [f.severity for f in findings] == [Severity.NOTE]
    assert "no room for the name" in str(findings[0])


def test_grain_arrow_lies_along_the_grain(plywood):
    """ALONG_Y draws an upright arrow, ALONG_X a level one, ANY none; clear of the name."""
    for grain, upright in ((Grain.ALONG_X, False), (Grain.ALONG_Y, True)):
        part = Plate("rib", plywood, rectangle(100, 60), grain=grain).part()
        shaft = next(m.path for m in part.marks if m.path.length_mm == pytest.approx(ARROW_MM))
        assert (shaft.bounds.width_mm < 1e-9) == upright
        letters = [m.path for m in part.marks[: len(text_paths("rib", height_mm=5))]]
        assert min(distance(shaft, path) for path in letters) > MARGIN_MM
    plain = Plate("rib", plywood, rectangle(100, 60)).part()
    assert len(plain.marks) == len(text_paths("rib", height_mm=5))


def test_lettering_is_not_mirrored_with_its_place(base):
    """A label at a mirrored place reads the same there, not backwards."""
    plate = base.with_features(lettering("B4", at=mirrored((30, 30)), name="label"))
    one, other = plate.features
    across = Motion(dx_mm=80)  # from x = 30 to its image at 110
    for here, there in zip(one.marks, other.marks, strict=True):
        assert np.allclose(here.path.moved(across).table, there.path.table)


def test_a_label_over_a_hole_is_a_finding(base):
    """Lettering put across a hole or the edge is reported by name."""
    plate = base.with_features(
        hole(20), lettering("ACROSS", name="label"), lettering("EDGE", at=(0, 50), name="rim")
    )
    assert [(f.feature, f.measure) for f in plate.findings] == [
        ("label", "a scored mark runs over an edge or a hole"),
        ("rim", "a scored mark runs over an edge or a hole"),
    ]


@pytest.mark.skipif(shutil.which("rsvg-convert") is None, reason="no SVG renderer here")
def test_letters_render_as_ink(tmp_path):
    """An independent renderer (librsvg) turns the strokes of a line of text into a picture."""
    lines = []
    for path in text_paths("PLATE 6", height_mm=12):
        points = [s.at(t) for s in path.segments for t in np.linspace(0, 1, 12)]
        lines.append(" ".join(f"{x + 2:.3f},{14 - y:.3f}" for x, y in points))
    body = "".join(f'<polyline fill="none" stroke="#000" points="{row}"/>' for row in lines)
    width = math.ceil(text_width_mm("PLATE 6", height_mm=12)) + 4
    svg = tmp_path / "text.svg"
    svg.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="16">{body}</svg>'
    )
    done = subprocess.run(
        ["rsvg-convert", str(svg), "-o", str(tmp_path / "text.png")],
        check=True,
        capture_output=True,
    )
    assert done.stderr == b""
    assert (tmp_path / "text.png").stat().st_size > 500
