"""Nuts, washers and inserts by standard."""

import math

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.hardware.fasteners.clearance import clearance_hole_mm
from platekit.hardware.fasteners.inserts import heat_set_insert, known_heat_set_inserts
from platekit.hardware.fasteners.nuts import known_nut_standards, known_nut_threads, nut
from platekit.hardware.fasteners.screw_kinds import screw_by
from platekit.hardware.fasteners.threads import metric_thread
from platekit.hardware.fasteners.washers import known_washer_threads, washer

NUTS = [(std, name) for std in known_nut_standards() for name in known_nut_threads(std)]
# Largest heights: full ISO 4032 (looked up in two open part libraries), thin ISO 4035, locking
# ISO 7040, both from memory of the standards.
HEIGHTS_MM = {
    "M3": (2.4, 1.8, 4.5),
    "M4": (3.2, 2.2, 6.0),
    "M5": (4.7, 2.7, 6.8),
    "M6": (5.2, 3.2, 8.0),
    "M8": (6.8, 4.0, 9.5),
    "M10": (8.4, 5.0, 11.9),
    "M12": (10.8, 6.0, 14.9),
}
# ISO 272 widths across flats, from memory.
ISO_272 = {
    "M2": 4, "M2.5": 5, "M3": 5.5, "M4": 7, "M5": 8, "M6": 10, "M8": 13, "M10": 16, "M12": 18,
    "M16": 24,
}  # fmt: skip
# ISO 7093-1 bore, outside, thickness, from memory.
LARGE = {
    "M3": (3.2, 9, 0.8), "M4": (4.3, 12, 1), "M5": (5.3, 15, 1), "M6": (6.4, 18, 1.6),
    "M8": (8.4, 24, 2), "M10": (10.5, 30, 2.5), "M12": (13, 37, 3), "M16": (17, 50, 3),
}  # fmt: skip


@pytest.mark.parametrize("name", HEIGHTS_MM)
def test_nuts_are_as_high_as_their_standards_say(name):
    """Full, thin, locking."""
    heights = tuple(nut(std, name).height_mm for std in ("ISO 4032", "ISO 4035", "ISO 7040"))
    assert heights == HEIGHTS_MM[name]


@pytest.mark.parametrize(("standard", "name"), NUTS)
def test_nuts_are_hexagons_around_their_thread(standard, name):
    """Widths of ISO 272; the prism's area in closed form, bore as wide as the shank it meets."""
    one = nut(standard, name)
    (block,) = one.blocks()
    d_mm = float(name[1:])
    assert one.across_flats_mm == ISO_272[name]
    area = math.sqrt(3) / 2 * ISO_272[name] ** 2 - math.pi / 4 * d_mm**2
    assert block.profile.area_mm2 == pytest.approx(area)
    assert (block.low_mm, block.high_mm) == (0.0, one.height_mm)
    kind = screw_by("ISO 4762", name)
    _, shank = kind.blocks(kind.lengths_mm[-1])
    (bore,) = block.profile.inners
    assert abs(bore.signed_area_mm2) == pytest.approx(shank.profile.area_mm2)


@pytest.mark.parametrize("name", known_washer_threads("ISO 7093-1"))
def test_large_washers_are_those_of_iso_7093(name):
    """Three times the thread wide, roughly; fit the bore of the fine clearance hole or more."""
    one = washer("ISO 7093-1", name)
    assert (one.inner_mm, one.outer_mm, one.height_mm) == LARGE[name]
    assert one.outer_mm > washer("ISO 7089", name).outer_mm > clearance_hole_mm(name, fit="coarse")
    (block,) = one.blocks()
    inner, outer, height = LARGE[name]
    assert block.profile.area_mm2 == pytest.approx(math.pi / 4 * (outer**2 - inner**2))
    assert (block.low_mm, block.high_mm) == (0.0, height)


def test_they_are_ordered_by_standard_size_and_class():
    """A full nut of class 8, a thin one of 04 (ISO 898-2); a washer by its hardness (ISO 7089)."""
    assert nut("ISO 4032", "M5").item(quantity=3).designation == "nut ISO 4032 M5 8"
    assert nut("ISO 4035", "M5").designation() == "ISO 4035 M5 04"
    assert nut("ISO 7040", "M5").designation(property_class="10") == "ISO 7040 M5 10"
    assert washer("ISO 7093-1", "M6").item().designation == "washer ISO 7093-1 M6 200 HV"
    with pytest.raises(PartError, match="quantity"):
        washer("ISO 7089", "M6").item(quantity=0)


def test_what_is_unknown_offers_the_nearest():
    """Standard, thread, class."""
    with pytest.raises(UnknownNameError, match=r"unknown standard of a nut.*ISO 4032"):
        nut("ISO 4023", "M5")
    with pytest.raises(UnknownNameError, match="unknown ISO 7093-1 washer 'M2'"):
        washer("ISO 7093-1", "M2")
    with pytest.raises(UnknownNameError, match=r"unknown property class of a nut '8\.8'"):
        nut("ISO 4032", "M5").designation(property_class="8.8")
    with pytest.raises(UnknownNameError, match="unknown heat-set insert 'M10'"):
        heat_set_insert("M10")


@pytest.mark.parametrize("name", known_heat_set_inserts())
def test_inserts_bite_into_their_hole_and_hold_a_thread(name):
    """Hole between thread and knurls, so that it melts its way in; room for one diameter of thread.

    Common practice, no source.
    """
    one = heat_set_insert(name)
    thread = metric_thread(name)
    assert thread.nominal_mm + thread.pitch_mm < one.hole_mm < one.outer_mm
    assert one.length_mm > thread.nominal_mm
    (block,) = one.blocks()
    assert (block.low_mm, block.high_mm) == (-one.length_mm, 0.0)
    assert one.item().designation.startswith(f"heat-set insert {name}x")
