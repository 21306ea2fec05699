"""Hardware of the flagship, measured on its cut files and held against the standards.

Every number is the CIRCLE that the laser follows plus the kerf, so what is judged is the hole a
caliper would find.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import permutations

import numpy as np
import pytest
import shapely

from platekit.assembly.frames import Frame
from platekit.geometry.chains import Bounds, Contour
from platekit.panel.part import Part
from tests.export.test_dxf import read_by_ezdxf
from tests.recipes.builds import FLAGSHIP, assembly, build, resolved
from tests.recipes.chorded import polygon

# Coordinates in the files are rounded; the project promises them within this.
WITHIN_MM = 1e-3
INCH_MM = 25.4


@cache
def holes(part: str) -> list[tuple[np.ndarray, float]]:
    """Return centre and finished diameter of every round hole of a part's DXF, the widest first."""
    made = build(FLAGSHIP)
    space = read_by_ezdxf(made.files[f"parts/{part}.dxf"]).modelspace()
    found = [
        (np.array(one.dxf.center.vec2), 2 * one.dxf.radius + made.beam.kerf_mm)
        for one in space.query("CIRCLE")
        if one.dxf.layer == "CUT_INSIDE"
    ]
    return sorted(found, key=lambda hole: -hole[1])


def like(part: str, diameter_mm: float) -> np.ndarray:
    """Return the centres of a part's holes of one diameter, shape (n, 2)."""
    at = [centre for centre, wide in holes(part) if abs(wide - diameter_mm) <= WITHIN_MM]
    return np.array(at).reshape(-1, 2)


def around(points: np.ndarray, centre: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return distances from a centre and the angles between neighbours about it, degrees."""
    away = points - centre
    angles = np.sort(np.degrees(np.arctan2(away[:, 1], away[:, 0])) % 360)
    steps = np.diff(np.append(angles, angles[0] + 360))
    return np.linalg.norm(away, axis=1), steps


def test_the_motor_s_bolt_square() -> None:
    """NEMA 34: four holes on a circle of 3.875 in, a square of 2.740 in or 69.6 mm.

    NEMA ICS 16, as looked up for the motor table and from memory here: both say the same. M5
    medium is 5.5 mm (ISO 273:1979, looked up).
    """
    bolts = like("motor plate", 5.5)
    assert len(bolts) == 4
    middle = bolts.mean(axis=0)
    away, steps = around(bolts, middle)
    assert away == pytest.approx(3.875 * INCH_MM / 2, abs=WITHIN_MM)
    assert steps == pytest.approx(90.0, abs=1e-3)
    side = np.linalg.norm(bolts[:, None] - bolts[None], axis=2)
    assert np.sort(side[0])[1] == pytest.approx(2.740 * INCH_MM, abs=0.01)
    assert np.sort(side[0])[1] == pytest.approx(69.6, abs=0.01)


def test_the_motor_s_pilot_slides_in() -> None:
    """NEMA 34 pilot: 2.875 in or 73.03 mm (NEMA ICS 16), in the middle of the bolts.

    Its bore is 0.2 mm wider: common practice, no source.
    """
    centre, wide = holes("motor plate")[0]
    assert wide - 2.875 * INCH_MM == pytest.approx(0.2, abs=WITHIN_MM)
    assert centre == pytest.approx(like("motor plate", 5.5).mean(axis=0), abs=WITHIN_MM)


@pytest.mark.parametrize("side", ["lower", "upper"])
def test_the_hub_s_six_bolts(side: str) -> None:
    """ISO 9409-1-80-6-M8: six holes on 80 mm, 60 degrees apart, as the designation itself says.

    M8 medium is 9 mm (ISO 273:1979). Neighbours of six stand as far apart as from the centre.
    """
    holes_9mm = like(f"turntable {side}", 9.0)
    middle = holes_9mm.mean(axis=0)  # the dish's four stand about the same axis
    away = np.linalg.norm(holes_9mm - middle, axis=1)
    hub = holes_9mm[np.abs(away - 40.0) <= WITHIN_MM]
    assert len(hub) == 6
    _, steps = around(hub, middle)
    assert steps == pytest.approx(60.0, abs=2e-3)
    apart = np.sort(np.linalg.norm(hub - hub[0], axis=1))
    assert apart[1:] == pytest.approx(
        [40.0, 40.0, 40.0 * math.sqrt(3), 40.0 * math.sqrt(3), 80.0], abs=2e-3
    )


@pytest.mark.parametrize("seat", ["lower", "upper"])
def test_the_bearing_seats(seat: str) -> None:
    """6006 is 30 x 55 x 13 mm (ISO 15, from memory); H7 at 55 mm is +0.030/0 (ISO 286-2).

    Cut to the middle of the limits, 55.015 mm; as many rings as hold the width of 13 mm.
    """
    rings = [name for name in _parts() if name.startswith(f"{seat} ring")]
    assert len(rings) == math.ceil(13.0 / 6.0)
    for ring in rings:
        assert holes(ring)[0][1] == pytest.approx(55.015, abs=WITHIN_MM)


@pytest.mark.parametrize("plate", ["bearing plate top", "head top"])
def test_the_shoulders_hold_the_outer_ring_alone(plate: str) -> None:
    """The hole is smaller than the outer ring and larger than the abutment of the inner one.

    For 6006 the shaft's shoulder is at least 35 mm, the housing's at most 50 mm (bearing
    catalogues, from memory).
    """
    assert any(35.0 < wide <= 50.0 for _, wide in holes(plate))


def test_the_shaft_runs_straight_through() -> None:
    """Motor, both seats, their shoulders and the mast flange share one axis in space."""
    axes = []
    for part, frame in resolved(FLAGSHIP).placed:
        for ring in part.profile.inners:
            if (
                part.name
                in {"motor plate", "bearing plate top", "head top"}
                | {name for name in _parts() if "ring" in name}
                and ring.is_circle
                and ring.bounds.width_mm > 40.0
            ):
                box = ring.bounds
                at = frame.point((box.left + box.right) / 2, (box.bottom + box.top) / 2)
                axes.append((at.x, at.y))
    assert len(axes) == 3 + 6
    assert np.ptp(np.array(axes), axis=0) == pytest.approx(0.0, abs=1e-6)


def test_the_stop_button_s_hole() -> None:
    """22.3 mm, +0.4/0, with a key notch 3.2 mm wide reaching 24.1 mm across (IEC 60947-5-1).

    From memory; the same figures stand in the makers' drilling plans.
    """
    (front,) = [part for part in build(FLAGSHIP).parts if part.name == "front"]
    keyed = [
        ring
        for ring in front.profile.inners
        if abs(ring.bounds.width_mm - 22.3) <= 0.01 and not ring.is_circle
    ]
    assert len(keyed) == 1
    (ring,) = keyed
    assert ring.bounds.height_mm == pytest.approx(24.1, abs=0.2)
    arcs = [one for one in ring.segments if hasattr(one, "radius_mm")]
    assert {2 * arc.radius_mm for arc in arcs} == {22.3}
    upright = [one for one in ring.segments if one not in arcs and one.start.x == one.end.x]
    assert abs(upright[0].start.x - upright[1].start.x) == pytest.approx(3.2, abs=0.2)


def test_the_belt_fits_its_pulleys() -> None:
    """60 and 30 teeth of 3 mm, at the centres measured in space, want a belt that is sold.

    Length of an open belt over pulleys of pitch diameters D and d at centres C, closed form:
    2 C cos a + (D + d) pi / 2 + (D - d) a, sin a = (D - d) / 2 C. Of 119 to 121 teeth, of which
    makers of this pitch sell at least one (from memory).
    """
    placed = {part.name: (part, frame) for part, frame in resolved(FLAGSHIP).placed}
    shaft, encoder = (_widest(*placed[name]) for name in ("motor plate", "encoder carrier"))
    centres = math.dist(shaft, encoder)
    large, small = 60 * 3.0 / math.pi, 30 * 3.0 / math.pi
    lean = math.asin((large - small) / 2 / centres)
    length = 2 * centres * math.cos(lean) + (large + small) * math.pi / 2 + (large - small) * lean
    slots = [
        ring
        for part in build(FLAGSHIP).parts
        if part.name == "encoder carrier"
        for ring in part.profile.inners
        if not ring.is_circle
    ]
    assert len(slots) == 4
    travel = {round(ring.bounds.width_mm - ring.bounds.height_mm, 6) for ring in slots}
    (reach,) = travel
    # The pulley comes near enough to lay the belt on, and far enough to make it taut.
    for teeth in (119, 120, 121):
        assert abs(3.0 * teeth - length) / 2 < reach / 2
    # M4 medium is 4.5 mm (ISO 273:1979).
    assert {round(ring.bounds.height_mm, 6) for ring in slots} == {4.5}


def test_no_layer_of_a_laminate_covers_another_s_hole() -> None:
    """Screws go through: a hole is free in every layer, or stepped about one axis (a shoulder).

    Only the hub's spigot ends in the layer it stands in: 50 mm wide and 5 mm high (ISO 9409-1).
    """
    covered = []
    spigot_mm2 = math.pi * 50.2**2 / 4
    shapes = {part.name: polygon(part.profile) for part in resolved(FLAGSHIP).parts}
    for panel in assembly(FLAGSHIP).panels:
        for one, other in permutations([shapes[layer.name] for layer in panel.layers], 2):
            voids = [shapely.Polygon(ring) for ring in other.interiors]
            for hole in map(shapely.Polygon, one.interiors):
                stepped = any(void.contains(hole.centroid) for void in voids)
                recess = abs(hole.area - spigot_mm2) < 1.0
                if not (stepped or recess) and hole.intersection(other).area > 1.0:
                    covered.append((panel.name, hole.centroid.wkt))
    assert covered == []


def test_the_encoder_s_body_has_room_in_the_bearing_plate() -> None:
    """Its 58 mm body, hanging from the carrier through the window, touches nothing on its travel.

    58 mm is what bodies of this class measure: common practice, no source.
    """
    placed = {part.name: (part, frame) for part, frame in resolved(FLAGSHIP).placed}
    (carrier, high), (plate, low) = placed["encoder carrier"], placed["bearing plate top"]
    slot = next(ring for ring in carrier.profile.inners if not ring.is_circle)
    reach = (slot.bounds.width_mm - slot.bounds.height_mm) / 2
    assert high.origin.z == pytest.approx(low.origin.z + plate.sheet.thickness_mm)
    bore = max((ring for ring in carrier.profile.inners if ring.is_circle), key=_ring_width_mm)
    x, y, _ = low.coordinates(high.point(*bore.centroid, 0.0))
    path = shapely.LineString([(x - reach, y), (x + reach, y)])
    assert polygon(plate.profile).distance(path) >= 58.0 / 2


def _ring_width_mm(ring: Contour) -> float:
    return ring.bounds.width_mm


def _widest(part: Part, frame: Frame) -> tuple[float, float]:
    """Return where in space, seen from above, the middle of a part's widest round hole lies."""
    box = max((one.bounds for one in part.profile.inners if one.is_circle), key=_width_mm)
    at = frame.point((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    return at.x, at.y


def _width_mm(box: Bounds) -> float:
    return box.width_mm


@cache
def _parts() -> tuple[str, ...]:
    return tuple(part.name for part in build(FLAGSHIP).parts)
