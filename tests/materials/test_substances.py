"""What a laser may cut."""

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.findings import Severity
from platekit.materials.fits import Hold
from platekit.materials.sheets import sheet
from platekit.materials.substances import Laser, known_materials, material
from platekit.materials.suitability import sheet_findings


# Chlorinated and fluorinated plastics give off acids: safety pages of laser workshops, looked up
# for PVC, common practice for the rest.
@pytest.mark.parametrize(
    "name",
    ["PVC", "pvc", "vinyl", "Imitation Leather", "CPVC", "PVDC", "neoprene", "PVC foam board",
     "black PVC 3 mm", "soft-pvc"],
)  # fmt: skip
def test_chlorinated_plastics_are_known_and_refused_with_the_reason(name):
    """Whatever the spelling, no sheet of it can be made."""
    assert material(name).laser is Laser.REFUSED
    assert not material(name).laser_safe
    with pytest.raises(PartError, match=r"must not be cut by a laser: .*hydrogen chloride"):
        sheet(name, nominal_mm=3)


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("PTFE", "hydrogen fluoride"),
        ("FR4", "poisonous fumes"),
        ("carbon fibre", "short electronics"),
        ("EPS", "catches fire"),
    ],
)
def test_other_harmful_materials_are_refused_with_the_reason(name, reason):
    """Common practice of laser workshops."""
    with pytest.raises(PartError, match=reason):
        sheet(name, nominal_mm=3)


@pytest.mark.parametrize("name", ["polycarbonate", "ABS", "acetal"])
def test_doubtful_plastics_are_warned_of(name):
    """They can be cut, badly: a warning with a remedy, not a refusal."""
    one = sheet(name, nominal_mm=3)
    (finding,) = sheet_findings(one)
    assert finding.severity is Severity.WARNING
    assert material(name).laser_reason in str(finding)
    assert finding.remedy


@pytest.mark.parametrize("name", known_materials())
def test_what_may_be_cut_is_complete(name):
    """Nominal thicknesses, stock, density, fits, grain and reason are there."""
    one = material(name)
    assert one.laser is not Laser.REFUSED
    assert one.laser_reason
    assert one.nominals_mm
    assert one.stock
    assert one.density_kg_m3 is not None
    assert set(one.fits) == {"finger", "tab", "halving", "tongue", "screwed", "laminate dowel"}
    assert one.grain == ("plywood" in name)
    assert one.source


# Mean densities, kg/m3: data sheets and handbooks, from memory, as ranges.
@pytest.mark.parametrize(
    ("name", "least", "most"),
    [("birch plywood", 630, 750), ("poplar plywood", 380, 500), ("MDF", 700, 850),
     ("cast acrylic", 1180, 1200), ("polycarbonate", 1190, 1220), ("ABS", 1030, 1070)],
)  # fmt: skip
def test_densities_are_those_of_the_trade(name, least, most):
    """A wrong one would spoil every mass."""
    assert least <= (material(name).density_kg_m3 or 0) <= most


def test_four_millimetre_plywood_is_at_hand():
    """Trade fact, common practice, no source: rigs of this kind are commonly cut from it."""
    assert 4.0 in material("birch plywood").nominals_mm
    assert 4.0 in material("poplar plywood").nominals_mm


def test_an_unknown_material_says_which_may_be_cut():
    """Nearest first, and none that is refused among the offers."""
    with pytest.raises(UnknownNameError) as caught:
        material("birch plywod")
    assert "did you mean birch plywood" in str(caught.value)
    assert "PVC" not in str(caught.value)


def test_acrylic_is_never_pressed():
    """It cracks (common practice, no source): asking for it names the way out."""
    with pytest.raises(PartError, match=r"cracks.*take a glued or a slip fit"):
        material("acrylic").fits.of("finger").clearance_mm(Hold.PRESS)


# Common practice, no source: fit = opening less what goes in, mm, by what holds the joint.
RANGES = {
    ("plywood", "press"): (-0.10, 0.00),
    ("plywood", "glued"): (0.00, 0.10),
    ("plywood", "slip"): (0.10, 0.25),
    ("fibreboard", "press"): (-0.05, 0.05),
    ("fibreboard", "glued"): (0.00, 0.10),
    ("fibreboard", "slip"): (0.10, 0.25),
    ("acrylic", "glued"): (0.05, 0.15),
    ("acrylic", "slip"): (0.05, 0.15),
}


@pytest.mark.parametrize("name", ["birch plywood", "poplar plywood", "MDF", "cast acrylic"])
def test_fits_lie_in_the_ranges_of_the_trade(name):
    """For every joint; a press never wider than glue, glue never wider than slip."""
    one = material(name)
    for joint in one.fits:
        fit = one.fits.of(joint)
        assert one.fits[joint] == fit.clearance_mm() == fit.clearance_mm("glued")
        assert fit.press_mm is None or fit.press_mm <= fit.glued_mm
        assert fit.source
        assert fit.glued_mm <= fit.slip_mm
        for hold in Hold:
            if (one.kind, hold.value) in RANGES:
                least, most = RANGES[one.kind, hold.value]
                assert least <= fit.clearance_mm(hold) <= most


def test_an_unknown_joint_or_hold_is_refused():
    """Says which there are."""
    fits = material("MDF").fits
    with pytest.raises(UnknownNameError, match="did you mean finger"):
        fits["fingers"]
    with pytest.raises(UnknownNameError, match="known: glued, press, slip"):
        fits.of("finger").clearance_mm("nailed")
