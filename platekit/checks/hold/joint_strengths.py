"""What one tab of a joint holds, design values: along the joint, and across the panel."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.assembly.loads import Factors
from platekit.checks.hold.joint_lines import JointLine
from platekit.checks.hold.seats import least_of
from platekit.formulas.glue_and_fingers import (
    glued_strength_n,
    tab_bearing_n,
    tab_bending_n,
    tab_shear_n,
    wood_glue_mpa,
)
from platekit.materials import Hold, Strength

# A rectangle's greatest shear over its mean: what bends and shears across the sheet.
SHEAR_PEAK = 1.5
# The plainest wood glue; what is under it gives way earlier.
GLUE = "D2"


@dataclass(frozen=True, slots=True, kw_only=True)
class TabHolds:
    """What one tab holds.

    Attributes:
        force_n: Design value.
        by: What gives way first, in words.
        formula: How it was worked out, numbers put in.
    """

    force_n: float
    by: str
    formula: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """The sheets of both panels of a joint, and how they are weighed.

    Attributes:
        own: Strength of the loaded panel's sheet.
        other: Of its mate's.
        kmod: What is left of a short test under this load.
        factors: Factors of the assembly.
    """

    own: Strength
    other: Strength
    kmod: float
    factors: Factors

    @property
    def gamma(self) -> float:
        """Factor on the strength of a joint of these two."""
        wood = self.own.timber and self.other.timber
        return self.factors.connection if wood else self.factors.plastic

    @property
    def crushing_mpa(self) -> float | None:
        """Compression in the plane, the weaker sheet the weaker way; None where one is unknown."""
        return _both(_crushing(self.own), _crushing(self.other))

    def design(self, force_n: float, by: str, said: str) -> TabHolds:
        """Return a strength with its factors."""
        return TabHolds(
            force_n=self.kmod * force_n / self.gamma,
            by=by,
            formula=f"kmod {said} / gamma = {self.kmod:g} x {force_n:.4g} / {self.gamma:g}",
        )


def along_n(line: JointLine, pair: Pair) -> TabHolds | None:
    """Return what one tab holds along its joint; None where a sheet's figures are not known.

    Its end presses on the end of its slot, over the thickness of both; its root shears. Glue is
    not counted, for fits have play.
    """
    tabbed = pair.own if line.tabbed else pair.other
    tab_mm = line.own_mm if line.tabbed else line.other_mm
    crushing = pair.crushing_mpa
    if crushing is None or tabbed.panel_shear_mpa is None:
        return None
    bears = tab_bearing_n(crushing, width_mm=line.own_mm, thickness_mm=line.other_mm)
    shears = tab_shear_n(tabbed.panel_shear_mpa, width_mm=line.tab_mm, thickness_mm=tab_mm)
    return min(
        pair.design(bears, "the end of a tab crushes", "fc t t"),
        pair.design(shears, "a tab shears off", "fv w t"),
        key=lambda one: one.force_n,
    )


def across_n(line: JointLine, pair: Pair) -> TabHolds | None:
    """Return what one tab holds across the loaded panel; None where figures are not known.

    The panel's own tabs lie in slots: they roll off their veneers, bend at the root or crush the
    slot's wall. Tabs of its mate would be drawn out: only glue holds them.
    """
    if line.tabbed or line.made.kind == "halving":
        return _in_slot(line, pair)
    return glued(line, pair)


def holds_across(line: JointLine) -> bool:
    """Return whether a joint holds its panel across the panel's plane at all."""
    caught = line.tabbed or line.made.kind == "halving"
    return caught or line.made.hold is Hold.GLUED


def _in_slot(line: JointLine, pair: Pair) -> TabHolds | None:
    own, width, thick = pair.own, line.tab_mm, line.own_mm
    rolling = least_of([own.planar_shear_0_mpa, own.planar_shear_90_mpa, own.panel_shear_mpa])
    bending = least_of([own.bending_0_mpa, own.bending_90_mpa])
    crushing = _crushing(pair.other)
    if rolling is None or bending is None or crushing is None:
        return None
    shears = tab_shear_n(rolling, width_mm=width, thickness_mm=thick) / SHEAR_PEAK
    bears = tab_bearing_n(crushing, width_mm=width, thickness_mm=line.other_mm)
    bends = tab_bending_n(bending, arm_mm=line.other_mm / 2, along_mm=thick, across_mm=width)
    return min(
        pair.design(shears, "a tab's veneers roll off each other", "fr w t / 1.5"),
        pair.design(bears, "the wall of a slot crushes", "fc w t"),
        pair.design(bends, "a tab bends off", "fm w t^2 / (3 t)"),
        key=lambda one: one.force_n,
    )


def glued(line: JointLine, pair: Pair) -> TabHolds | None:
    """Return what the glue on both flat faces of one tab holds, by the weaker of glue and wood."""
    wood = least_of(
        [
            figure
            for one in (pair.own, pair.other)
            for figure in (one.planar_shear_0_mpa, one.planar_shear_90_mpa)
        ]
    )
    if wood is None:
        return None
    depth = line.other_mm if line.tabbed else line.own_mm
    # Glue has a factor of its own: put on here, so that both are weighed alike below.
    glue = wood_glue_mpa(GLUE) * pair.gamma / pair.factors.glue
    force = glued_strength_n(
        glue_mpa=glue, wood_mpa=wood, length_mm=line.tab_mm, breadth_mm=depth, faces=2
    )
    return pair.design(force, "the glue on a tab lets go", "2 fr w t")


def _crushing(one: Strength) -> float | None:
    return least_of([one.compression_0_mpa, one.compression_90_mpa])


def _both(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else min(one, other)
