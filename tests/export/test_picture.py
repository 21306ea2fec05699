"""Pictures for people, read back by programs that know nothing of us."""

import io
import math
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
import shapely
import svgelements
from hypothesis import HealthCheck, given, settings, strategies as st

from platekit.errors import PlatekitError
from platekit.export.captions import CAPITAL_EM, DESCENT_EM, text_width_px
from platekit.export.label_room import LabelRoom
from platekit.export.picture import EDGE, LINE_PX, MARKS, PAGE_PX, PAPER, PIECE, QUIET_INK, tinted
from platekit.export.picture_ground import STOCK
from platekit.export.picture_parts import parts_picture
from platekit.export.picture_sheets import PicturedSheet, sheets_picture
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.chords import polyline_points, to_polygon
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.materials import birch_plywood
from platekit.nesting import NestedSheet, Placement, Stock
from platekit.panel.flipping import face_of, flipped
from platekit.panel.lettering import centred_text, text_width_mm
from platekit.panel.part import Mark, Part
from tests.export.examples import keyhole, rounded_rectangle, slot
from tests.export.pictures import needs_rsvg, rendered

NAMESPACE = "{http://www.w3.org/2000/svg}"
SHEET = birch_plywood(6, thickness_mm=6.3)
THIN = birch_plywood(3)


def rectangle(width, height, *holes):
    """Return a plain plate."""
    corners = [(0, 0), (width, 0), (width, height), (0, height)]
    return Profile(closed_polyline(corners), holes)


def named(text, at):
    """Return a name scored with its middle at `at`."""
    there = Motion(dx_mm=at[0], dy_mm=at[1])
    return tuple(Mark(path.moved(there)) for path in centred_text(text, height_mm=6))


def some_parts():
    """Return a plate with every kind of hole, a ring about its origin, and a small lever."""
    holes = (
        circle((30, 25), diameter_mm=16),
        slot(20, 6).moved(Motion(dx_mm=70, dy_mm=55)),
        keyhole((100, 30), radius=6, neck=4),
    )
    plate = Profile(rounded_rectangle(140, 80, 10), holes)
    ring = Profile(circle((0, 0), diameter_mm=60), (circle((0, 0), diameter_mm=44),))
    return (
        Part("motor plate", SHEET, plate, marks=named("MOTOR PLATE", (60, 40))),
        Part("ring", SHEET, ring, quantity=3),
        Part("lever", SHEET, rectangle(12, 40)),
    )


def some_sheets():
    """Return two sheets with those parts, one of them turned every way there is."""
    first = laid(
        (300, 200),
        [
            ("motor plate", 1, 150, 10, 90),
            ("ring", 1, 200, 50, 0),
            ("ring", 2, 200, 120, 180),
            ("lever", 1, 60, 190, 270),
        ],
    )
    second = laid((200, 200), [("ring", 3, 40, 40, 33.5)])
    return (first, second)


def laid(size, rows, *, sheet=SHEET, used=None, stock=None, offcuts=()):
    """Return a sheet with placements given as (part, copy, x, y, turn) and whether face down."""
    placements = tuple(
        Placement(part=part, copy=copy, x_mm=x, y_mm=y, rotation_deg=turn, mirrored=any(down))
        for part, copy, x, y, turn, *down in rows
    )
    nested = NestedSheet(
        stock=stock or Stock(*size),
        width_mm=size[0],
        height_mm=size[1],
        placements=placements,
        used_length_mm=size[0] - 50 if used is None else used,
        utilisation=0.5,
        offcuts=tuple(offcuts),
    )
    return PicturedSheet(kind=sheet.name, nested=nested, kerf_mm=0.2437)


def on_sheets(title, *, parts, sheets, **more):
    """Return the picture of sheets with the good faces of parts on them."""
    return sheets_picture(title, faces=[face_of(part) for part in parts], sheets=sheets, **more)


def the_sheets(recipe="rig"):
    """Return the picture of those sheets."""
    return on_sheets(recipe, parts=some_parts(), sheets=some_sheets())


def pieces(text):
    """Return the pieces another parser finds, as polygons on the page."""
    found = svgelements.SVG.parse(io.StringIO(text), ppi=96)
    return [
        polygon(shape)
        for shape in found.elements()
        if isinstance(shape, svgelements.Path)
        and shape.fill.hex == PIECE
        and shape.stroke.hex == EDGE
    ]


def polygon(shape):
    """Return a parsed path, even-odd, with arcs in chords of half a degree or so."""
    whole = shapely.Polygon()
    for part in svgelements.Path(shape).reify().as_subpaths():
        points = []
        for segment in svgelements.Path(part):
            steps = 720 if isinstance(segment, svgelements.Arc) else 1
            points += [segment.point(k / steps) for k in range(steps + 1)]
        whole = whole.symmetric_difference(shapely.Polygon([(p.x, p.y) for p in points]))
    return whole


def boxes(text):
    """Return every line of text with the box it may take, (left, top, right, bottom)."""
    found = []
    for one in ET.fromstring(text).iter(f"{NAMESPACE}text"):  # noqa: S314 - our own text
        x, y, size = (float(one.get(key)) for key in ("x", "y", "font-size"))
        width = text_width_px(one.text, size_px=size, bold=one.get("font-weight") == "bold")
        start = {"start": 0.0, "middle": -width / 2, "end": -width}[one.get("text-anchor", "start")]
        along, up, down = (start, start + width), CAPITAL_EM * size, DESCENT_EM * size
        if one.get("transform"):
            assert one.get("transform") == f"rotate(-90 {one.get('x')} {one.get('y')})"
            found.append((one.text, (x - up, y - along[1], x + down, y - along[0])))
        else:
            found.append((one.text, (x + along[0], y - up, x + along[1], y + down)))
    return found


def require_tidy(text):
    """Assert that every line of text is on the page and none runs into another."""
    height = float(ET.fromstring(text).get("height"))  # noqa: S314
    page = shapely.box(0, 0, PAGE_PX, height)
    lines = [(said, shapely.box(*box)) for said, box in boxes(text)]
    for k, (said, box) in enumerate(lines):
        assert page.covers(box), said
        for other, its in lines[:k]:
            assert box.intersection(its).area < 0.5, (said, other)


def scale_of(text):
    """Return the pixels to the millimetre a picture's groups say, each once."""
    return {float(value) for value in re.findall(r"scale\((\S+) -", text)}


def test_every_placement_is_drawn_once_where_it_lies():
    """Shape by shape what another parser finds is the finished part at its place, y turned."""
    text = the_sheets()
    found = pieces(text)
    (scale,) = scale_of(text)
    parts = {part.name: part for part in some_parts()}
    frames = re.findall(r'<g transform="translate\((\S+) (\S+)\) scale', text)
    expected = []
    for one, (left, bottom) in zip(some_sheets(), frames, strict=True):
        to_page = [scale, 0, 0, -scale, float(left), float(bottom)]
        for placed in one.nested.placements:
            profile = parts[placed.part].profile.moved(placed.motion)
            true = to_polygon(profile, tolerance_mm=0.001)
            expected.append(shapely.affinity.affine_transform(true, to_page))
    assert len(found) == len(expected) == 5
    for drawn, true in zip(found, expected, strict=True):
        # A hundredth of a millimetre along the edge, in pixels.
        assert drawn.symmetric_difference(true).area <= 0.02 * scale**2 * true.length
        assert drawn.area == pytest.approx(true.area, rel=1e-3)


def test_sheets_lie_on_the_page_apart():
    """Every sheet's frame has its true proportions, to one scale; none covers another."""
    text = the_sheets()
    (scale,) = scale_of(text)
    root = ET.fromstring(text)  # noqa: S314
    frames = [
        shape.bbox()
        for shape in svgelements.SVG.parse(io.StringIO(text), ppi=96).elements()
        if isinstance(shape, svgelements.Rect) and shape.fill.value is None
    ]
    assert [
        ((right - left) / scale, (bottom - top) / scale) for left, top, right, bottom in frames
    ] == [
        pytest.approx((300, 200), abs=0.01),
        pytest.approx((200, 200), abs=0.01),
    ]
    outlines = [shapely.box(*frame) for frame in frames]
    assert not outlines[0].intersects(outlines[1])
    page = shapely.box(0, 0, PAGE_PX, float(root.get("height")))
    for outline in outlines:
        assert page.covers(outline.buffer(LINE_PX / 2))


def test_names_stand_on_bare_material():
    """Every printed name lies inside its piece, clear of edges, holes and scored lines."""
    text = the_sheets()
    found = pieces(text)
    names = {part.name for part in some_parts()}
    scored = [
        shapely.MultiLineString(
            [
                [(s.start.x, s.start.y), (s.end.x, s.end.y)]
                for s in svgelements.Path(shape).reify()
                if not isinstance(s, svgelements.Move)
            ]
        )
        for shape in svgelements.SVG.parse(io.StringIO(text)).elements()
        if isinstance(shape, svgelements.Path) and shape.stroke.hex == MARKS["score"]
    ]
    labels = [shapely.box(*box) for said, box in boxes(text) if said in names]
    assert len(labels) == 5
    for label in labels:
        assert sum(piece.covers(label) for piece in found) == 1
        assert not any(lines.intersects(label) for lines in scored)


def test_captions_say_what_was_cut_from_what():
    """Title, material with its measured thickness, kerf; per sheet size, pieces, fill, length."""
    said = [line.replace("\N{NO-BREAK SPACE}", " ") for line, _ in boxes(the_sheets())]
    assert said[1] == "rig"
    assert said[2] == "birch plywood 6 mm, measures 6.3 mm, kerf 0.24 mm"
    assert "Sheet 1: 300 \N{MULTIPLICATION SIGN} 200 mm" in said
    assert "4 pieces, 50 % filled, 250 mm of its length used" in said
    assert "1 piece, 50 % filled, 150 mm of its length used" in said


def test_sheets_of_several_kinds_are_told_apart():
    """Each material and kerf is named at the head, and beside each sheet cut from it."""
    parts = (Part("base", SHEET, rectangle(80, 60)), Part("lid", THIN, rectangle(80, 60)))
    sheets = (laid((200, 100), [("base", 1, 5, 5, 0)]),
              laid((200, 100), [("lid", 1, 5, 5, 0)], sheet=THIN))  # fmt: skip
    text = on_sheets("case", parts=parts, sheets=sheets)
    said = " ".join(line.replace("\N{NO-BREAK SPACE}", " ") for line, _ in boxes(text))
    for sheet in (SHEET, THIN):
        assert said.count(f"{sheet.name}, kerf 0.24 mm") == 1
        assert said.count(f"{sheet.name}, 1 piece,") == 1


@pytest.mark.parametrize("free", [80, 0])
def test_what_is_left_over_is_shown(free):
    """A free offcut is white behind a dashed line, its size said; without one there is none."""
    parts = (Part("base", SHEET, rectangle(80, 60)),)
    strip = rectangle(80, 100).moved(Motion(dx_mm=120))
    offcuts = [strip] if free else []
    one = laid((200, 100), [("base", 1, 5, 5, 0)], used=200 - free, offcuts=offcuts)
    text = on_sheets("case", parts=parts, sheets=[one])
    (scale,) = scale_of(text)
    left, bottom = map(float, re.search(r"translate\((\S+) (\S+)\) scale", text).groups())
    white = [
        polygon(shape)
        for shape in svgelements.SVG.parse(io.StringIO(text), ppi=96).elements()
        if isinstance(shape, svgelements.Path) and shape.fill.hex == PAPER
    ]
    assert ("stroke-dasharray" in text) == bool(free)
    assert ("free offcut" in text) == bool(free)
    if free:
        box = [left + 120 * scale, bottom - 100 * scale, left + 200 * scale, bottom]
        assert white[-1].bounds == pytest.approx(box, abs=0.05)
        label = next(
            shapely.box(*box) for said, box in boxes(text) if "80\N{NO-BREAK SPACE}" in said
        )
        assert white[-1].covers(label)


def odd_offcut():
    """Return an offcut with a bite out of it, a round hole in it, and pieces on it."""
    outline = [(0, 0), (260, 0), (260, 90), (180, 90), (150, 160), (0, 160)]
    shape = Profile(closed_polyline(outline), (circle((60, 110), diameter_mm=50),))
    rest = Profile(closed_polyline([(200, 0), (260, 0), (260, 90), (200, 90)]))
    rows = [("lever", 1, 20, 20, 0), ("lever", 2, 90, 20, 90), ("hook", 1, 170, 100, 90, True)]
    stock = Stock(260, 160, 1, "corner", shape=shape)
    return laid((260, 160), rows, used=200, stock=stock, offcuts=[rest])


def hook():
    """Return a shape that is not its own mirror image, with its name scored on it."""
    outline = [(0, 0), (70, 0), (70, 20), (30, 20), (30, 60), (0, 60)]
    return Part(
        "hook", SHEET, Profile(closed_polyline(outline)), marks=scored_name("HOOK", at=(35, 10))
    )


def scored_name(text, *, at):
    """Return marks that are known as the part's own name."""
    there = Motion(dx_mm=at[0], dy_mm=at[1])
    paths = centred_text(text, height_mm=6)
    return tuple(Mark(path.moved(there), is_name=True) for path in paths)


def test_an_odd_offcut_is_drawn_as_it_is():
    """Ground and frame are its own shape, hole open, by another parser; its name is said."""
    text = on_sheets("rig", parts=[some_parts()[2], hook()], sheets=[odd_offcut()])
    (scale,) = scale_of(text)
    left, bottom = map(float, re.search(r"translate\((\S+) (\S+)\) scale", text).groups())
    shape = odd_offcut().nested.stock.shape
    to_page = [scale, 0, 0, -scale, left, bottom]
    true = shapely.affinity.affine_transform(to_polygon(shape, tolerance_mm=0.001), to_page)
    paths = [
        one
        for one in svgelements.SVG.parse(io.StringIO(text), ppi=96).elements()
        if isinstance(one, svgelements.Path)
    ]
    (ground,) = (one for one in paths if one.fill.hex == STOCK)
    edge = paths[-1]
    assert (edge.fill.value, edge.stroke.hex) == (None, QUIET_INK)
    for drawn in (ground, edge):
        found = polygon(drawn)
        assert found.symmetric_difference(true).area <= 0.02 * scale**2 * true.length
    assert "corner, " in " ".join(said for said, _ in boxes(text))
    require_tidy(text)


def test_a_piece_face_down_is_mirrored_and_its_name_is_not():
    """By another parser: the shape lies as the placement's motion says; the letters are right."""
    text = on_sheets("rig", parts=[some_parts()[2], hook()], sheets=[odd_offcut()])
    (scale,) = scale_of(text)
    left, bottom = map(float, re.search(r"translate\((\S+) (\S+)\) scale", text).groups())
    placed = odd_offcut().nested.placements[-1]
    true = to_polygon(hook().profile.moved(placed.motion))
    on_page = shapely.affinity.affine_transform(true, [scale, 0, 0, -scale, left, bottom])
    assert pieces(text)[-1].symmetric_difference(on_page).area <= 0.02 * on_page.length * scale**2
    assert "<title>hook (face down)</title>" in text
    # The strokes are those of the name on the good face, only moved.
    there, here = (
        np.vstack([polyline_points(mark.path, tolerance_mm=0.01) for mark in face.marks])
        for face in (flipped(face_of(hook())), face_of(hook()))
    )
    assert there - there.min(axis=0) == pytest.approx(here - here.min(axis=0), abs=1e-8)


def test_every_kind_of_part_is_drawn_once_at_its_size():
    """Area and extent are the part's at the scale its group says; the texts give them in mm."""
    parts = some_parts()
    text = parts_picture("rig", parts=parts)
    (scale,) = scale_of(text)
    found = pieces(text)
    # The parts stand in this order already: 140 x 80, 60 x 60 and 12 x 40 mm.
    for drawn, part in zip(found, parts, strict=True):
        left, top, right, bottom = drawn.bounds
        box = part.profile.bounds
        assert (right - left) / scale == pytest.approx(box.width_mm, abs=0.02)
        assert (bottom - top) / scale == pytest.approx(box.height_mm, abs=0.02)
        assert drawn.area / scale**2 == pytest.approx(part.profile.area_mm2, rel=2e-3)
    said = " ".join(line.replace("\N{NO-BREAK SPACE}", " ") for line, _ in boxes(text))
    assert "5 pieces of 3 kinds" in said
    times = "\N{MULTIPLICATION SIGN}"
    assert f"motor plate 140 {times} 80 mm 6.3 mm thick, 1 piece" in said
    assert f"ring 60 {times} 60 mm 6.3 mm thick, 3 pieces" in said


def test_small_parts_are_shown_larger_and_say_so():
    """A 3 mm dot beside a 600 mm plate is drawn at a round multiple of the scale, which is said."""
    dot = Profile(circle((0, 0), diameter_mm=3))
    parts = (Part("plate", SHEET, rectangle(600, 300)), Part("dot", SHEET, dot))
    text = parts_picture("rig", parts=parts)
    scale, large = sorted(scale_of(text))
    factor = round(large / scale)
    assert large == pytest.approx(factor * scale, rel=1e-4)
    assert f"shown {factor} times larger" in " ".join(line for line, _ in boxes(text))
    drawn = pieces(text)[1]
    assert drawn.area / large**2 == pytest.approx(math.pi * 1.5**2, rel=1e-3)


def test_kinds_come_sorted():
    """By sheet, then the largest first, then by name, number after number."""
    parts = (
        *(Part(f"rib {k}", SHEET, rectangle(50, 20)) for k in (10, 2, 1)),
        Part("wall", SHEET, rectangle(90, 60)),
        Part("lid", THIN, rectangle(300, 200)),
    )
    titles = re.findall(r"<g [^>]*>\n<title>([^<]*)</title>", parts_picture("rig", parts=parts))
    assert titles == ["wall", "rib 1", "rib 2", "rib 10", "lid"]


def test_circles_stay_round():
    """A whole circle is two half arcs of one rounded radius: no chord anywhere, centre exact."""
    hole = circle((12.3456, 7.6543), diameter_mm=6.6)
    part = Part("washer", SHEET, Profile(circle((12.3456, 7.6543), diameter_mm=20), (hole,)))
    text = parts_picture("rig", parts=[part])
    data = re.search(r'fill-rule="evenodd" d="([^"]*)"', text)[1]
    assert set(re.findall("[A-Za-z]", data)) == {"M", "a", "Z"}
    for ring, radius in zip(svgelements.Path(data).as_subpaths(), (10.0, 3.3), strict=True):
        for arc in svgelements.Path(ring):
            if isinstance(arc, svgelements.Arc):
                assert (arc.rx, arc.ry) == pytest.approx((radius, radius), abs=1e-9)
                assert tuple(arc.center) == pytest.approx((12.35, 7.65), abs=1e-6)


sizes = st.floats(1.0, 900.0)
names = st.text(alphabet="abwM0 -_", min_size=1, max_size=64).filter(
    lambda name: name == name.strip()
)


@settings(
    max_examples=40, derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
@given(
    given_parts=st.lists(st.tuples(names, sizes, sizes, st.integers(1, 9)), min_size=1, max_size=12,
                         unique_by=lambda one: one[0].casefold()),
    stock=st.tuples(st.floats(30.0, 3000.0), st.floats(30.0, 3000.0)),
    recipe=st.text(min_size=1, max_size=80),
)  # fmt: skip
def test_no_text_leaves_the_page_or_meets_another(given_parts, stock, recipe):
    """Whatever the sizes, the names and the number of kinds; and it is always sound XML."""
    parts = [
        Part(name, SHEET, rectangle(width, height), quantity=quantity)
        for name, width, height, quantity in given_parts
    ]
    require_tidy(parts_picture(recipe, parts=parts))
    sheets = [
        laid((part.profile.bounds.width_mm + stock[0], part.profile.bounds.height_mm + stock[1]),
             [(part.name, 1, 5, 5, 0)], used=part.profile.bounds.width_mm + 10)
        for part in parts
    ]  # fmt: skip
    require_tidy(on_sheets(recipe, parts=parts, sheets=sheets))


def test_any_text_is_escaped():
    """Signs with a meaning in XML come back as text, and those XML forbids as a space."""
    hostile = "a<b>&\"'\x00\x1b]]>"
    for text in (the_sheets(hostile), parts_picture(hostile, parts=some_parts())):
        root = ET.fromstring(text)  # noqa: S314
        assert root.findtext(f"{NAMESPACE}title").startswith("a<b>&\"' ]]>: ")
        assert "".join(line for line, _ in boxes(text)).count("a<b>&\"'") == 1


def test_same_input_same_bytes():
    """Nothing but the input decides."""
    assert the_sheets() == the_sheets()
    assert parts_picture("rig", parts=some_parts()) == parts_picture("rig", parts=some_parts())


def test_nothing_to_show_is_said():
    """An empty picture would look like a success."""
    with pytest.raises(PlatekitError, match="no nested sheet"):
        on_sheets("rig", parts=some_parts(), sheets=[])
    with pytest.raises(PlatekitError, match="no part"):
        parts_picture("rig", parts=[])


def test_room_is_found_beside_a_hole_and_only_there():
    """In a 100 x 40 plate a label goes to the middle; past a central hole; and never over it."""
    plain = LabelRoom(rectangle(100, 40), marks=(), scale=3.0)
    spot = plain.spot(width_px=60, height_px=30)
    assert (spot.x, spot.y) == pytest.approx((50, 20), abs=1.0)
    holed = rectangle(100, 40, circle((50, 20), diameter_mm=30))
    spot = LabelRoom(holed, marks=(), scale=3.0).spot(width_px=60, height_px=30)
    assert abs(spot.x - 50) >= 15 + 10 * 0.6
    assert 5 <= spot.y <= 35
    assert LabelRoom(holed, marks=(), scale=3.0).spot(width_px=150, height_px=30) is None
    assert plain.spot(width_px=301, height_px=3) is None


def test_room_keeps_off_scored_lines():
    """A name scored across the middle pushes the printed one aside."""
    marks = [mark.path for mark in named("TRAY", (50, 20))]
    spot = LabelRoom(rectangle(100, 40), marks=marks, scale=3.0).spot(width_px=60, height_px=24)
    window = shapely.box(spot.x - 10, spot.y - 4, spot.x + 10, spot.y + 4)
    lettered = shapely.MultiPoint(np.array(list(map(bounds, marks))).reshape(-1, 2)).envelope
    assert lettered.area == pytest.approx(6 * text_width_mm("TRAY", height_mm=6))
    assert not window.intersects(lettered.buffer(-1e-6))


def bounds(chain):
    """Return a chain's bounds as shapely takes them."""
    box = chain.bounds
    return box.left, box.bottom, box.right, box.top


@needs_rsvg
def test_pixels_are_what_a_reader_sees(tmp_path):
    """The ground is white of its own; material is tinted; a hole shows the sheet behind it."""
    frame = rectangle(100, 60, circle((50, 30), diameter_mm=30))
    strip = rectangle(50, 100).moved(Motion(dx_mm=150))
    one = laid((200, 100), [("frame", 1, 10, 10, 0)], offcuts=[strip])
    text = on_sheets("rig", parts=[Part("frame", SHEET, frame)], sheets=[one])
    (scale,) = scale_of(text)
    left, bottom = map(float, re.search(r"translate\((\S+) (\S+)\) scale", text).groups())
    pixels = rendered(text, tmp_path)
    assert pixels.shape[1] == PAGE_PX

    def colour(x_mm, y_mm):
        column, row = round(left + x_mm * scale), round(bottom - y_mm * scale)
        return "#" + bytes(pixels[row, column].tolist()).hex()

    ground = next(one for one in ET.fromstring(text) if one.tag == f"{NAMESPACE}rect")  # noqa: S314
    assert (ground.get("x"), ground.get("y"), ground.get("fill")) == (None, None, PAPER)
    assert (float(ground.get("width")), float(ground.get("height"))) == (
        PAGE_PX,
        pytest.approx(pixels.shape[0], abs=1),
    )
    assert PAPER == "#ffffff"
    assert colour(20, 20) == PIECE  # material
    assert colour(60, 40) == STOCK  # through the hole
    assert colour(130, 90) == STOCK  # beside the piece
    assert colour(170, 20) == PAPER  # the free offcut


def test_tints_are_mixtures_with_white():
    """Half of black is mid grey; nothing of any colour is white; all of it is itself."""
    assert tinted("#000000", share=0.5) == "#808080"
    assert tinted(EDGE, share=0.0) == "#ffffff"
    assert tinted(EDGE, share=1.0) == EDGE
    shares = np.linspace(0, 1, 11)
    greys = [int(tinted("#000000", share=float(share))[1:3], 16) for share in shares]
    assert greys == sorted(greys, reverse=True)
