"""Features: sizes from the standards, positions from the handbook, shapes by closed forms."""

import math

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import GeometryError, PartError, PlatekitError, UnknownNameError
from platekit.geometry.chains import circle
from platekit.geometry.curves import Line
from platekit.geometry.faults import find_faults
from platekit.geometry.gaps import gaps_within
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.faces import cable_gland, encoder_face, motor_face, panel_cutout
from platekit.panel.feature import Feature
from platekit.panel.holes import (
    bearing_seat,
    bolt_circle,
    bolt_rectangle,
    d_bore,
    double_d_bore,
    hole,
    hub_face,
    keyed_bore,
)
from platekit.panel.lightening import lightening
from platekit.panel.marking import centre_mark, grain_arrow, reference_line
from platekit.panel.openings import (
    arc_slot,
    notch,
    nut_pocket,
    nut_pocket_contour,
    opening,
    slot,
    vent_honeycomb,
    vent_slots,
    window,
)
from platekit.panel.places import centre, corners, from_edges, mirrored, on_edge
from platekit.panel.plate import Plate
from tests.amounts import examples


def centres(feature: Feature) -> list[tuple[float, float]]:
    """Centres of a feature's circles."""
    return [tuple(cut.centroid) for cut in feature.cuts]


def diameters(feature: Feature) -> list[float]:
    """Diameters of a feature's circles."""
    return [2 * cut.table[0, 6] for cut in feature.cuts if cut.is_circle]


# ISO 273:1979, from memory: thread, fine, medium, coarse.
ISO_273 = [
    ("M3", 3.2, 3.4, 3.6),
    ("M4", 4.3, 4.5, 4.8),
    ("M5", 5.3, 5.5, 5.8),
    ("M6", 6.4, 6.6, 7.0),
    ("M8", 8.4, 9.0, 10.0),
    ("M10", 10.5, 11.0, 12.0),
]


@pytest.mark.parametrize(("thread", "fine", "medium", "coarse"), ISO_273)
def test_screw_holes_are_those_of_iso_273(thread, fine, medium, coarse):
    """A hole by screw size has the diameter the standard lists, exactly; medium by default."""
    assert diameters(hole(thread, fit="fine")) == [pytest.approx(fine, abs=1e-12)]
    assert diameters(hole(thread)) == [pytest.approx(medium, abs=1e-12)]
    assert diameters(hole(thread, fit="coarse")) == [pytest.approx(coarse, abs=1e-12)]


# Hole-circle tables of machinery handbooks, per unit of diameter (layout from memory; the values
# are cosines and sines to five digits).
HANDBOOK = {
    3: [(0.5, 0.0), (-0.25, 0.43301), (-0.25, -0.43301)],
    5: [(0.5, 0.0), (0.15451, 0.47553), (-0.40451, 0.29389), (-0.40451, -0.29389),
        (0.15451, -0.47553)],
    6: [(0.5, 0.0), (0.25, 0.43301), (-0.25, 0.43301), (-0.5, 0.0), (-0.25, -0.43301),
        (0.25, -0.43301)],
    8: [(0.5, 0.0), (0.35355, 0.35355), (0.0, 0.5), (-0.35355, 0.35355), (-0.5, 0.0),
        (-0.35355, -0.35355), (0.0, -0.5), (0.35355, -0.35355)],
}  # fmt: skip


@pytest.mark.parametrize("count", sorted(HANDBOOK))
def test_bolt_circles_stand_where_the_handbook_puts_them(count):
    """Coordinates of an 80 mm circle agree with the table to its five digits."""
    found = centres(bolt_circle(count, "M8", pcd_mm=80))
    for (x, y), (ux, uy) in zip(found, HANDBOOK[count], strict=True):
        assert x == pytest.approx(80 * ux, abs=80 * 5e-6)
        assert y == pytest.approx(80 * uy, abs=80 * 5e-6)


def test_bolt_circle_chord_is_d_sin_pi_over_n():
    """Adjacent holes are PCD sin(pi/n) apart (chord of a circle); the start angle turns all."""
    found = centres(bolt_circle(7, 5, pcd_mm=66, start_deg=11))
    assert math.degrees(math.atan2(found[0][1], found[0][0])) == pytest.approx(11)
    for k in range(7):
        assert math.dist(found[k], found[k - 1]) == pytest.approx(66 * math.sin(math.pi / 7))


def test_bolt_rectangle_stands_on_its_corners():
    """Four holes on 69.6 x 40, two where one side is 0."""
    found = centres(bolt_rectangle(69.6, 40, "M5"))
    assert found == [pytest.approx(p) for p in [(-34.8, -20), (34.8, -20), (34.8, 20), (-34.8, 20)]]
    assert len(bolt_rectangle(30, 0, 3).cuts) == 2


# NEMA ICS 16 inch values, from memory: bolt circle 2.625 in, pilot 1.500 in, square 1.856 in.
def test_nema_23_face_has_the_standard_pattern():
    """Four holes on a 47.14 mm square and a 38.1 mm pilot with the stated clearance."""
    face = motor_face("NEMA 23", pilot_clearance_mm=0.1)
    assert diameters(face)[0] == pytest.approx(38.1 + 0.1)
    spots = sorted(centres(face)[1:])
    assert spots[0] == pytest.approx((-47.14 / 2, -47.14 / 2), abs=0.01)
    assert all(math.hypot(*spot) == pytest.approx(66.675 / 2, abs=1e-3) for spot in spots)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(travel=st.floats(1, 12), along=st.floats(0, 360), turn=st.floats(0, 360))
def test_tension_slots_lie_along_the_travel_on_the_plate(travel, along, turn):
    """However the motor is turned, each hole is stretched by the travel in the stated direction."""
    still = motor_face("NEMA 34", turn_deg=turn)
    moving = motor_face("NEMA 34", travel_mm=travel, travel_deg=along, turn_deg=turn)
    for hole_cut, slot_cut in zip(still.cuts, moving.cuts, strict=True):
        d = 2 * hole_cut.table[0, 6]
        assert slot_cut.area_mm2 == pytest.approx(math.pi * d * d / 4 + d * travel)
        assert tuple(slot_cut.centroid) == pytest.approx(tuple(hole_cut.centroid), abs=1e-9)
        lines = [s for s in slot_cut.segments if isinstance(s, Line)]
        assert len(lines) == 2
        heading = math.atan2(lines[0].end.y - lines[0].start.y, lines[0].end.x - lines[0].start.x)
        off = math.degrees(heading) + turn - along
        assert min(off % 180, 180 - off % 180) < 1e-6


# ISO 9409-1, from memory: 80-6-M8 has six M8 on 80 mm and a 50 mm pilot.
def test_tool_flange_by_designation():
    """ISO 9409-1-80-6-M8: pilot 50, six 9 mm holes on an 80 mm circle."""
    flange = hub_face("ISO 9409-1-80-6-M8", pilot_clearance_mm=0)
    assert diameters(flange) == [pytest.approx(d) for d in [50, 9, 9, 9, 9, 9, 9]]
    assert {round(math.hypot(*p), 9) for p in centres(flange)[1:]} == {40.0}
    assert len(hub_face("ISO 9409-1-80-6-M8", pilot=False).cuts) == 6


# ISO 286-2, from memory: H7 over 30 to 50 is 0/+25 um; N7 is -33/-8 um. ISO 15: 6004 is 42 mm.
@pytest.mark.parametrize(("fit", "diameter"), [("H7", 42.0125), ("N7", 41.9795)])
def test_bearing_seats_are_cut_to_the_middle_of_their_limits(fit, diameter):
    """A 6004 in H7 or N7; the bearing goes on the bill unless it is at hand."""
    seat = bearing_seat("6004-2RS", fit=fit)
    assert diameters(seat) == [pytest.approx(diameter, abs=1e-9)]
    assert [item.quantity for item in seat.items] == [1]
    assert bearing_seat("6004", bought=False).items == ()


def test_bores_for_shafts_fit_their_shafts():
    """Keyed 16 mm: 5 mm key, 18.3 to the floor (DIN 6885-1, from memory); D and double D."""
    keyed = keyed_bore(16).cuts[0]
    assert keyed.bounds.height_mm == pytest.approx(18.3)
    loose = keyed_bore(16, clearance_mm=0.2).cuts[0]
    assert loose.bounds.top == pytest.approx(keyed.bounds.top)  # the floor stays where the key is
    assert loose.bounds.width_mm == pytest.approx(16.2)
    assert d_bore(10, 8.5, clearance_mm=0.1).cuts[0].bounds.height_mm == pytest.approx(8.6)
    flats = double_d_bore(12, 9, clearance_mm=0.1).cuts[0].bounds
    assert (flats.width_mm, flats.height_mm) == pytest.approx((12.1, 9.1))


def test_faces_of_bought_parts():
    """Encoder, gland and emergency stop bring their openings, items and rooms."""
    encoder = encoder_face("58 mm clamping flange")
    assert len(encoder.cuts) == 4
    assert encoder.items
    gland = cable_gland("M20")
    assert gland.rooms
    assert diameters(gland)[0] > 20
    stop = panel_cutout("emergency stop 22 mm")
    # IEC 60947-5-1, from memory: 22.3 mm hole, notch 3.2 mm wide, 24.1 mm over the notch.
    assert stop.cuts[0].bounds.width_mm == pytest.approx(22.3)
    assert stop.cuts[0].bounds.height_mm == pytest.approx(24.1)
    inlet = panel_cutout("mains inlet C14")
    assert len(inlet.cuts) == 3


def test_openings_have_the_area_of_their_shapes():
    """Slot, arc slot and window by closed form."""
    assert slot(30, 6).cuts[0].area_mm2 == pytest.approx(24 * 6 + 9 * math.pi)
    bent = arc_slot(radius_mm=30, sweep_deg=60, width_mm=6).cuts[0]
    assert bent.area_mm2 == pytest.approx(30 * math.pi / 3 * 6 + 9 * math.pi)
    assert window(40, 20, fillet_mm=3).cuts[0].area_mm2 == pytest.approx(800 - (4 - math.pi) * 9)
    assert opening(rectangle(5, 5)).cuts == (rectangle(5, 5),)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(w=st.floats(20, 90), h=st.floats(12, 70), cell=st.floats(2, 8), web=st.floats(1, 6))
def test_vents_fill_their_field_and_keep_their_webs(w, h, cell, web):
    """Every vent stays in its field; no two openings come nearer than the web."""
    for vent in (
        vent_slots(w, h, slot_mm=cell, web_mm=web),
        vent_honeycomb(w, h, across_flats_mm=cell, web_mm=web),
        vent_honeycomb(diameter_mm=w, across_flats_mm=cell, web_mm=web),
    ):
        for cut in vent.cuts:
            assert max(abs(cut.bounds.left), cut.bounds.right) <= w / 2 + 1e-6
        assert gaps_within(vent.cuts, within_mm=web - 1e-9) == ()


def test_round_honeycomb_stays_in_its_circle():
    """No corner of any cell lies outside the fan's circle."""
    for cut in vent_honeycomb(diameter_mm=76).cuts:
        assert all(math.hypot(x, y) <= 38 + 1e-9 for x, y in cut.table[:, :2])


def test_honeycomb_webs_all_have_one_width():
    """Neighbouring cells of a comb are exactly one web apart."""
    near = gaps_within(vent_honeycomb(80, 60, across_flats_mm=8, web_mm=3).cuts, within_mm=3.01)
    assert len(near) > 60
    assert all(gap.width_mm == pytest.approx(3, abs=1e-9) for gap in near)


def test_notch_opens_the_edge(base):
    """A 30 x 12 notch with 4 mm corners takes its area from the plate and joins its outline."""
    plate = base.with_features(notch(30, 12, fillet_mm=4, at=on_edge("top", along_mm=60)))
    lost = 30 * 12 - 2 * (1 - math.pi / 4) * 16
    assert base.profile.area_mm2 - plate.profile.area_mm2 == pytest.approx(lost, abs=1e-9)
    assert plate.profile.inners == ()
    assert find_faults(plate.profile) == ()


# ISO 4032 M5 nut: 8 mm across flats, 4.7 mm high (from memory); ISO 273 medium slot 5.5.
def test_nut_pocket_holds_its_nut():
    """The T has a 5.5 mm shank slot and room of 8.3 x 5 for the nut, the screw's end beyond it."""
    pocket = nut_pocket_contour("M5", reach_mm=20)
    near = 20 - 2 * 0.8 - 4.7
    xs = sorted({round(abs(x), 9) for x in pocket.table[:, 0]})
    assert xs == [pytest.approx(2.75), pytest.approx(4.15)]
    wide = [y for x, y in pocket.table[:, :2] if abs(x) > 3]
    assert (min(wide), max(wide)) == pytest.approx((near, near + 5.0))
    assert pocket.bounds.top == pytest.approx(20.3)


@pytest.mark.parametrize("edge", ["left", "right", "bottom", "top"])
def test_nut_pockets_open_every_edge(base, edge):
    """On any edge the pocket takes the same area, joins the outline, and brings its nut."""
    plate = base.with_features(nut_pocket("M5", reach_mm=20, at=on_edge(edge, along_mm=50)))
    pocket = nut_pocket_contour("M5", reach_mm=20)
    lost = pocket.area_mm2 - 5.5 * 1.0  # less the overrun beyond the edge
    assert base.profile.area_mm2 - plate.profile.area_mm2 == pytest.approx(lost, abs=1e-9)
    assert plate.profile.inners == ()
    assert [item.designation for item in plate.items] == ["nut ISO 4032 M5 8"]


@settings(derandomize=True, max_examples=examples(10, thorough=25), deadline=None)
@given(
    web=st.floats(2, 9),
    cell=st.floats(10, 30),
    pattern=st.sampled_from(["triangles", "squares", "hexagons"]),
    bore=st.floats(5, 50),
)
def test_lightening_leaves_its_web_everywhere(web, cell, pattern, bore):
    """Between pockets, to the edge and to every hole at least the web is left, exactly measured."""
    from platekit.materials import sheet

    plain = Plate("rib", sheet("birch plywood", nominal_mm=6), rectangle(180, 120)).with_features(
        hole(bore), hole("M5", at=corners(inset_mm=10)), cable_gland("M20", at=(140, 30))
    )
    try:
        light = plain.with_features(lightening(web_mm=web, cell_mm=cell, pattern=pattern))
    except PartError:
        return
    pockets = light.features[-1].cuts
    rings = (*pockets, *plain.profile.rings)
    near = gaps_within(rings, within_mm=web - 1e-6)
    assert [gap for gap in near if gap.first < len(pockets)] == []
    assert light.profile.area_mm2 == pytest.approx(
        plain.profile.area_mm2 - sum(pocket.area_mm2 for pocket in pockets)
    )


def test_lightening_keeps_clear_of_marks_and_rooms(base):
    """No pocket comes within the web of a scored line or of a lock nut's room."""
    plate = base.with_features(
        reference_line((10, 30), (130, 30), name="line"), cable_gland("M20", at=centre()),
        lightening(web_mm=4, cell_mm=12),
    )  # fmt: skip
    line, gland, pockets = plate.features
    obstacles = [line.marks[0].path, gland.rooms[0]]
    for obstacle in obstacles:
        assert gaps_within([obstacle, *pockets.cuts], within_mm=4 - 1e-6) == ()


def test_marks_go_where_asked(base):
    """Crosses, lines between places and arrows mark but do not cut."""
    plate = base.with_features(
        centre_mark(at=corners(inset_mm=10), size_mm=6),
        reference_line(from_edges(left_mm=20), from_edges(right_mm=20), layer="note"),
        reference_line(mirrored((15, 20)), mirrored((15, 90)), name="walls"),
        grain_arrow(at=(70, 20)),
    )
    assert plate.profile.inners == ()
    line = plate.feature("reference line").marks[0]
    assert (line.layer, line.path.start, line.path.end) == ("note", (20, 55), (120, 55))
    assert [m.path.start.x for m in plate.feature("walls").marks] == [15, 125]
    assert plate.feature("centre mark 3").at == (130, 100)


BAD = [
    (lambda: hole(0), "diameter is 0 mm"),
    (lambda: hole(-3), "diameter is -3 mm"),
    (lambda: hole(math.nan), "diameter is nan"),
    (lambda: hole(math.inf), "diameter is inf"),
    (lambda: hole(2e5), "check the unit"),
    (
        lambda: hole(True),  # noqa: FBT003 - the very mistake
        "diameter is True (bool)",
    ),
    (lambda: hole(None), "diameter is None (NoneType)"),
    (lambda: hole("M9"), "unknown thread 'M9'"),
    (lambda: hole("M5", fit="loose"), "unknown clearance fit 'loose'"),
    (lambda: bolt_circle(0, 5, pcd_mm=40), "count is 0"),
    (lambda: bolt_circle(2.5, 5, pcd_mm=40), "count is 2.5"),
    (lambda: bolt_circle(6, 5, pcd_mm=-40), "pcd_mm is -40 mm"),
    (lambda: bolt_circle(6, 5, pcd_mm=40, start_deg=math.nan), "start_deg is nan"),
    (lambda: bolt_rectangle(0, 0, 5), "no extent"),
    (lambda: motor_face("NEMA 24"), "unknown motor face 'NEMA 24'"),
    (lambda: motor_face("NEMA 23", travel_mm=-1), "travel_mm is -1 mm"),
    (lambda: hub_face("ISO 9409-1-81"), "unknown hub pattern"),
    (lambda: bearing_seat("6999"), "unknown bearing '6999'"),
    (lambda: bearing_seat("6004", fit="H77"), "H77"),
    (lambda: encoder_face("59 mm"), "unknown encoder body"),
    (lambda: cable_gland("M21"), "unknown cable gland"),
    (lambda: panel_cutout("bell"), "unknown panel cut-out"),
    (lambda: d_bore(10, 11), "less than 10 mm across the flat"),
    (lambda: keyed_bore(1000), "no standard key"),
    (lambda: keyed_bore(16, key_depth_mm=0.1, clearance_mm=0.4), "key depth left"),
    (lambda: slot(5, 6), "5 mm long and 6 mm wide"),
    (lambda: window(10, 10, fillet_mm=6), "give at most 5 mm"),
    (lambda: vent_slots(3, 20, slot_mm=4), "no vent slot of 4 mm"),
    (lambda: vent_honeycomb(4, 4), "no hexagon of 8 mm"),
    (lambda: vent_honeycomb(40, 40, diameter_mm=40), "no single field"),
    (vent_honeycomb, "no single field"),
    (lambda: notch(20, 5, fillet_mm=6), "give at most 5 mm"),
    (lambda: nut_pocket_contour("M5", reach_mm=5), "let it reach more than 6.3 mm"),
    (lambda: nut_pocket_contour("M5", reach_mm=20, nut_at_mm=18), "take a longer screw"),
    (lambda: nut_pocket_contour("M99", reach_mm=20), "unknown screw"),
    (lambda: lightening(web_mm=0, cell_mm=10), "web_mm is 0 mm"),
    (lambda: lightening(web_mm=3, cell_mm=10, pattern="stars"), "unknown pattern 'stars'"),
    (lambda: lightening(web_mm=3, cell_mm=10, fillet_mm=9), "does not fit corner"),
    (lambda: centre_mark(size_mm=0), "size_mm is 0 mm"),
]


@pytest.mark.parametrize(("make", "says"), BAD)
def test_bad_features_are_refused(make, says):
    """Each message gives the value or name at fault; unknown names list what is known."""
    with pytest.raises(PlatekitError) as caught:
        make()
    assert says in str(caught.value)
    assert isinstance(caught.value, PartError | GeometryError | UnknownNameError)
    assert caught.value.remedy


def test_a_circle_is_still_a_circle_in_the_part(base):
    """Holes stay whole circles of their exact radius all the way to the part."""
    part = base.with_features(hole("M5", at=corners(inset_mm=12))).part()
    assert [ring.is_circle for ring in part.profile.inners] == [True] * 4
    assert {float(ring.table[0, 6]) for ring in part.profile.inners} == {2.75}
    assert part.profile.inners[0] == circle((12, 12), diameter_mm=5.5).reversed()


def test_a_device_says_when_the_plate_is_too_thick_for_it() -> None:
    """A 22 mm stop button clamps up to 6 mm (IEC 60947-5-1 practice, from memory), not 9."""
    for thickness_mm, warned in ((6.0, False), (9.0, True)):
        plate = Plate("front", birch_plywood(thickness_mm), rectangle(200, 160)).with_features(
            panel_cutout("emergency stop 22 mm", name="stop")
        )
        said = [one for one in plate.part().findings if "must clamp" in one.measure]
        assert bool(said) == warned
        assert all((one.feature, one.value, one.limit) == ("stop", 9.0, 6.0) for one in said)
