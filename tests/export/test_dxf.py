"""DXF files, read back by two readers that know nothing of each other."""

import hashlib
import io
import logging
import re
import subprocess
import sys
from itertools import pairwise

import ezdxf
import ezdxf.filemanagement
import numpy as np
import pyogrio
import pyogrio.raw
import pytest
import shapely
from hypothesis import HealthCheck, given, settings, strategies as st

from platekit.cutting.drawing import Drawing, Entry, Layer, Note
from platekit.export.dxf import DxfFlavour, dxf_text
from platekit.export.palette import PALETTE, Palette, Pen
from platekit.geometry.chains import Contour, circle, closed_polyline, polyline
from platekit.geometry.points import Point
from tests.amounts import examples
from tests.export.examples import (
    bent,
    contours,
    distances_to,
    part_in_a_window,
    sheet_of_two,
    shoelace_mm2,
)

BOTH = pytest.mark.parametrize("flavour", list(DxfFlavour))
CUTS = (PALETTE.inside_cut.layer_name, PALETTE.outside_cut.layer_name)


def read_by_ezdxf(text):
    """Return the document; its audit must find nothing to say."""
    document = ezdxf.filemanagement.read(io.StringIO(text))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    return document


def read_by_gdal(text, folder, *, step_deg=0.1):
    """Return (layer, text, geometry) of each entity as GDAL's own reader sees it."""
    # The format is UTF-8 since R2007 whatever its code page field says; GDAL has to be told.
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": str(step_deg), "DXF_ENCODING": "UTF-8"})
    path = folder / "drawing.dxf"
    path.write_text(text, encoding="utf-8")
    meta, _, shapes, columns = pyogrio.raw.read(path)
    names = list(meta["fields"])
    layers, notes = columns[names.index("Layer")], columns[names.index("Text")]
    return list(zip(layers, notes, shapely.from_wkb(shapes), strict=True))


@BOTH
def test_two_readers_find_no_fault(flavour, tmp_path):
    """The audit of one is clean, the other sees every entity on its layer, in order."""
    drawing = sheet_of_two()
    text = dxf_text(drawing, flavour=flavour)
    read_by_ezdxf(text)
    seen = read_by_gdal(text, tmp_path)
    shapes = [layer for layer, _, shape in seen if shape.geom_type != "Point"]
    assert shapes == [PALETTE.of(entry.layer).layer_name for entry in drawing.entries]
    notes = [(said, shape.coords[0]) for _, said, shape in seen if shape.geom_type == "Point"]
    assert [(said, at[:2]) for said, at in notes] == [
        (note.text, tuple(note.at)) for note in drawing.notes
    ]


def test_header_says_millimetres():
    """Unit code 4 is the millimetre, measurement 1 is metric (DXF reference, header section)."""
    document = read_by_ezdxf(dxf_text(sheet_of_two()))
    assert document.dxfversion == "AC1024"  # R2010
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1
    assert document.header["$EXTMAX"] == (270, 100, 0)


def test_exact_flavour_holds_only_circles_and_bulged_polylines():
    """Circles stay circles, cuts are closed, no bulge is beyond a half circle, no SPLINE."""
    drawing = sheet_of_two()
    space = read_by_ezdxf(dxf_text(drawing)).modelspace()
    kinds = [entity.dxftype() for entity in space]
    whole = sum(isinstance(e.shape, Contour) and e.shape.is_circle for e in drawing.entries)
    assert kinds.count("CIRCLE") == whole == 12
    assert set(kinds) == {"CIRCLE", "LWPOLYLINE", "TEXT"}
    for line in space.query("LWPOLYLINE"):
        assert line.closed == (line.dxf.layer in CUTS)
        assert all(abs(bulge) <= 1 for *_, bulge in line.get_points("xyb"))


def test_plain_flavour_holds_only_chords_within_tolerance():
    """R12: POLYLINE without bulges, circles too; every chord within the tolerance asked for."""
    drawing = sheet_of_two()
    text = dxf_text(drawing, flavour=DxfFlavour.R12, chord_tolerance_mm=0.02)
    document = read_by_ezdxf(text)
    assert document.dxfversion == "AC1009"  # R12
    lines = [entity for entity in document.modelspace() if entity.dxftype() != "TEXT"]
    assert len(lines) == len(drawing.entries)
    for line, entry in zip(lines, drawing.entries, strict=True):
        assert line.dxftype() == "POLYLINE"
        assert line.is_closed == isinstance(entry.shape, Contour)
        assert all(vertex.dxf.bulge == 0 for vertex in line.vertices)
        ends = np.array([vertex.dxf.location.vec2 for vertex in line.vertices])
        assert distances_to(entry.shape, ends).max() <= 1e-6
        after = np.roll(ends, -1, axis=0) if line.is_closed else ends[1:]
        middles = (ends[: len(after)] + after) / 2
        assert distances_to(entry.shape, middles).max() <= 0.02 + 1e-6


@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
@settings(
    max_examples=examples(25, thorough=60),
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(shapes=st.lists(contours(), min_size=1, max_size=6))
def test_gdal_reads_the_same_curves(shapes, tmp_path_factory):
    """Any contour comes back within 0.001 mm, area and length as close, through GDAL."""
    entries = tuple(Entry(Layer.INSIDE_CUT, shape, "") for shape in shapes)
    text = dxf_text(Drawing(400, 400, entries))
    seen = read_by_gdal(text, tmp_path_factory.mktemp("dxf"), step_deg=0.05)
    assert len(seen) == len(shapes)
    for (_, _, shape), (contour) in zip(seen, shapes, strict=True):
        points = shapely.get_coordinates(shape)
        assert distances_to(contour, points).max() <= 0.001
        assert np.allclose(points[0], points[-1], atol=1e-6)
        assert shape.length == pytest.approx(contour.length_mm, rel=1e-6, abs=1e-4)
        if not contour.is_circle:  # a CIRCLE has no direction to come back with
            enclosed = abs(shoelace_mm2(points[:-1]) - contour.signed_area_mm2)
            assert enclosed <= 0.001 * contour.length_mm


@settings(
    max_examples=examples(25, thorough=60),
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
@given(shapes=st.lists(contours(), min_size=1, max_size=6))
def test_ezdxf_reads_the_same_curves(shapes):
    """Any contour comes back within 0.0001 mm through ezdxf, half circles at most."""
    entries = tuple(Entry(Layer.OUTSIDE_CUT, shape, "") for shape in shapes)
    space = read_by_ezdxf(dxf_text(Drawing(400, 400, entries))).modelspace()
    for entity, contour in zip(space, shapes, strict=True):
        if contour.is_circle:
            arc = contour.segments[0]
            assert entity.dxf.radius == pytest.approx(arc.radius_mm, abs=5.1e-7)
            assert tuple(entity.dxf.center.vec2) == pytest.approx(tuple(arc.centre), abs=5.1e-7)
            continue
        assert all(abs(bulge) <= 1 for *_, bulge in entity.get_points("xyb"))
        for piece in entity.virtual_entities():
            if piece.dxftype() == "ARC":
                points = [piece.start_point.vec2, piece.end_point.vec2]
                middle = (piece.dxf.start_angle + (piece.dxf.end_angle - piece.dxf.start_angle)
                          % 360 / 2)  # fmt: skip
                points += [point.vec2 for point in piece.vertices([middle])]
            else:
                points = [piece.dxf.start.vec2, piece.dxf.end.vec2]
            assert distances_to(contour, points).max() <= 1e-4


@BOTH
def test_insides_come_before_the_outside_that_frees_them(flavour):
    """File order is cut order, even where a part lies in another's window."""
    document = read_by_ezdxf(dxf_text(part_in_a_window(), flavour=flavour))
    inside, outside = CUTS
    layers = [entity.dxf.layer for entity in document.modelspace()]
    assert layers == [inside, outside, inside, outside]


@BOTH
def test_same_drawing_same_bytes_in_any_process(flavour):
    """Neither the day nor the process nor hash seeds leave a trace."""
    code = (
        "import hashlib; from platekit.export.dxf import *;"
        "from tests.export.examples import sheet_of_two;"
        f"text = dxf_text(sheet_of_two(), flavour=DxfFlavour.{flavour.name});"
        "print(hashlib.sha256(text.encode()).hexdigest())"
    )
    here = hashlib.sha256(dxf_text(sheet_of_two(), flavour=flavour).encode()).hexdigest()
    for seed in ("4", "5"):  # these two once gave two orders of a section
        told = subprocess.run(
            [sys.executable, "-c", code],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(p for p in sys.path if p) + ":."},
            capture_output=True,
            text=True,
            check=True,
        )
        assert told.stdout.strip() == here


@pytest.mark.parametrize("before", [True, False])
def test_ezdxf_options_are_left_as_they_were(before):
    """The option that fixes dates is put back, after a failure as well."""
    options = ezdxf.options
    kept = options.write_fixed_meta_data_for_testing
    try:
        options.write_fixed_meta_data_for_testing = before
        dxf_text(sheet_of_two())
        assert options.write_fixed_meta_data_for_testing is before
        with pytest.raises(AttributeError):
            dxf_text(Drawing(1, 1, (None,)))
        assert options.write_fixed_meta_data_for_testing is before
    finally:
        options.write_fixed_meta_data_for_testing = kept


@BOTH
def test_numbers_are_plain_decimals(flavour):
    """No exponent anywhere and no digits beyond a nanometre: old controllers read both wrong."""
    tiny = closed_polyline([(1e-5, 1e-6), (30.1 + 1e-12, -2e-5), (1 / 3, 20)])
    slight = Contour.of(
        [bent((0, 0), (100, 0), sweep_deg=0.01), bent((100, 0), (0, 0), sweep_deg=170)]
    )
    entries = (Entry(Layer.INSIDE_CUT, tiny, ""), Entry(Layer.OUTSIDE_CUT, slight, ""))
    text = dxf_text(Drawing(100, 20, entries), flavour=flavour)
    assert not re.search(r"^-?\d+(\.\d+)?e[+-]?\d+$", text, re.MULTILINE)
    after = text[text.index("ENTITIES") : text.index("ENDSEC", text.index("ENTITIES"))]
    coordinates = re.findall(r"^ [12]0\n(.*)$", after, re.MULTILINE)
    assert coordinates
    assert all(re.fullmatch(r"-?\d+\.\d{1,6}", number) for number in coordinates)
    read_by_ezdxf(text)


@pytest.mark.parametrize(
    ("flavour", "signs"),
    [
        (DxfFlavour.R2010, "Ø 6 ± 0.1 µm 90° ⌀ né"),
        (DxfFlavour.R12, "dia  6 +- 0.1 um 90 deg dia  ne"),
    ],
)
def test_notes_of_any_signs_break_nothing(flavour, signs, tmp_path):
    """Line ends, signs beyond ASCII, the format's own escapes: both readers get the text."""
    notes = (
        Note("two\nlines\r\n  0\nCIRCLE", Point(0, 10), 3),
        Note("Ø 6 ± 0.1 µm 90° ⌀ né", Point(0, 20), 3),
        Note("1e-05", Point(0, 30), 3),
        Note("5^ 100% %%c", Point(0, 40), 3),
    )
    text = dxf_text(Drawing(100, 50, (), notes), flavour=flavour)
    assert text.isascii() == (flavour is DxfFlavour.R12)
    expected = ["two lines   0 CIRCLE", signs, "1e-05", "5^ 100% % %c"]
    assert [note.plain_text() for note in read_by_ezdxf(text).modelspace()] == expected
    assert [said for _, said, _ in read_by_gdal(text, tmp_path)] == expected


@BOTH
def test_notes_may_be_turned(flavour):
    """A note read upwards has its line turned by 90 degrees about its left end; others have not."""
    notes = (Note("level", Point(5, 6), 3), Note("up", Point(20, 10), 3, 90.0))
    level, up = read_by_ezdxf(dxf_text(Drawing(50, 50, (), notes), flavour=flavour)).modelspace()
    assert (level.dxf.rotation, up.dxf.rotation) == (0.0, 90.0)
    assert tuple(up.dxf.insert)[:2] == (20, 10)


def test_layers_carry_true_and_nearest_numbered_colours():
    """R2010 says the palette's own colour; the numbered ones differ from layer to layer."""
    own = Palette(score=Pen("MARK", "#d55e01"))  # one step from the inside cut's colour
    document = read_by_ezdxf(dxf_text(sheet_of_two(), palette=own))
    numbers = set()
    for layer in Layer:
        pen = own.of(layer)
        made = document.layers.get(pen.layer_name)
        assert made.rgb == pen.rgb
        numbers.add(made.color)
    assert len(numbers) == len(Layer)
    assert not numbers & {0, 7, 256}


@BOTH
def test_writing_is_silent(flavour, caplog):
    """No library chatter reaches the maker's terminal."""
    with caplog.at_level(logging.WARNING):
        dxf_text(sheet_of_two(), flavour=flavour)
    assert not caplog.records


def test_two_hundred_holes_are_two_hundred_circles():
    """A plate with 200 holes gives 200 CIRCLE entities of radius 3.2 and one outline."""
    holes = [
        circle((10 * i + 10, 10 * j + 10), diameter_mm=6.4) for i in range(20) for j in range(10)
    ]
    entries = [Entry(Layer.INSIDE_CUT, hole, "plate") for hole in holes]
    outline = closed_polyline([(0, 0), (210, 0), (210, 110), (0, 110)])
    entries.append(Entry(Layer.OUTSIDE_CUT, outline, "plate"))
    space = read_by_ezdxf(dxf_text(Drawing(210, 110, tuple(entries)))).modelspace()
    assert [entity.dxf.radius for entity in space.query("CIRCLE")] == [3.2] * 200
    assert len(space) == 201


def test_open_marks_keep_both_ends():
    """A scored stroke is an open polyline from its first point to its last."""
    entries = (Entry(Layer.SCORE, polyline([(1, 1), (5, 1), (5, 9)]), ""),)
    (line,) = read_by_ezdxf(dxf_text(Drawing(10, 10, entries))).modelspace()
    assert not line.closed
    assert [tuple(point) for point in line.get_points("xy")] == [(1, 1), (5, 1), (5, 9)]
    lengths = [abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairwise(line.get_points("xy"))]
    assert sum(lengths) == 12


def test_drawing_up_leaves_the_writer_of_dxf_alone():
    """Only who writes a drawing waits for ezdxf: the interpreter's own list of modules."""
    code = "import platekit.job.drawing_up, sys; print('ezdxf' in sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "False"
