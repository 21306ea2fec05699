"""Glue lines, finger joints and single tabs: what shears, what presses, what bends.

Glue is told by its mean stress. Real glue lines peak at their ends and hate peeling, so a mean
close to a data sheet's strength is no joint. Loose fits carry no glue shear: the faces must touch,
or the glue be made to fill gaps. On the flat of plywood the veneers roll off each other before most
wood glues let go: `glued_strength_n` takes the weaker.
"""

from __future__ import annotations

import math

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.quantities import require_positive, require_whole, require_zero_up

# EN 204 (from memory): least shear strength of wood glues by durability class, thin joints on beech
# to EN 205, dry and after four days in water, MPa.
DRY_GLUE_MPA = {"D1": 10.0, "D2": 10.0, "D3": 10.0, "D4": 10.0}
WET_GLUE_MPA = {"D3": 2.0, "D4": 4.0}
# EN 1995-1-1:2004, 9.1.1 (from memory): a flange deeper than so many webs is not held evenly.
EVEN_FLANGE_DEPTH = 4.0
FLANGE_EXPONENT = 0.8


def glue_shear_mpa(force_n: float, *, length_mm: float, breadth_mm: float, faces: int = 1) -> float:
    """Return the mean shear stress in a glue line, MPa: P / (faces length breadth).

    Args:
        force_n: Along the faces, 0 or more. A butt with a splice on both sides shares it between
            two faces, each as long as the overlap on one side of the butt.
        length_mm: Of one face.
        breadth_mm: Of one face.
        faces: How many share the force.

    Raises:
        PartError: A number cannot be.

    Source:
        Equilibrium.
    """
    force = require_zero_up(force_n, "force", "N")
    return force / (require_whole(faces, "number of glued faces") * _area(length_mm, breadth_mm))


def glue_length_mm(
    force_n: float, *, allowed_mpa: float, breadth_mm: float, faces: int = 1
) -> float:
    """Return how long each glued face must be for a mean stress of `allowed_mpa`, mm.

    Raises:
        PartError: A number cannot be.

    Source:
        `glue_shear_mpa` solved for the length.
    """
    force = require_zero_up(force_n, "force", "N")
    allowed = require_positive(allowed_mpa, "allowed glue shear", "MPa")
    breadth = require_positive(breadth_mm, "breadth of a glued face", "mm")
    return force / (require_whole(faces, "number of glued faces") * allowed * breadth)


def finger_faces(first: int, second: int) -> int:
    """Return how many side faces a finger joint glues: fingers of both parts less 1.

    Args:
        first: Fingers of one part.
        second: Fingers of the other: as many, or one more or less.

    Raises:
        PartError: The fingers do not alternate.

    Source:
        Counting: fingers in a row touch one fewer times than there are fingers.
    """
    one = require_whole(first, "fingers of the first part")
    other = require_whole(second, "fingers of the second part")
    if abs(one - other) > 1:
        raise PartError(
            f"{one} fingers against {other}",
            remedy="fingers alternate: give numbers that differ by 1 at most",
        )
    return one + other - 1


def wood_glue_mpa(durability: str, *, wet: bool = False) -> float:
    """Return the least shear strength a wood glue of class "D1" to "D4" shows in its test, MPa.

    A test of glue on beech, not a design value: softer wood, thick or long joints hold less.

    Args:
        durability: Its class.
        wet: After four days in water; only D3 and D4 are tested so.

    Raises:
        UnknownNameError: There is no figure for the class.

    Source:
        EN 204, tests to EN 205 (from memory).
    """
    known = WET_GLUE_MPA if wet else DRY_GLUE_MPA
    if durability not in known:
        raise UnknownNameError.among("glue class", durability, known)
    return known[durability]


def glued_strength_n(
    *, glue_mpa: float, wood_mpa: float, length_mm: float, breadth_mm: float, faces: int = 1
) -> float:
    """Return the force that glued faces hold by the weaker of glue and wood, N.

    Args:
        glue_mpa: Shear strength of the glue.
        wood_mpa: Of the wood under it: on the flat of plywood its planar (rolling) shear strength.
        length_mm: Of one face.
        breadth_mm: Of one face.
        faces: How many share the force.

    Raises:
        PartError: A number cannot be.

    Source:
        Equilibrium with the weaker of the two.
    """
    weaker = min(
        require_zero_up(glue_mpa, "shear strength of the glue", "MPa"),
        require_zero_up(wood_mpa, "shear strength of the wood", "MPa"),
    )
    count = require_whole(faces, "number of glued faces")
    return weaker * count * _area(length_mm, breadth_mm)


def web_glue_shear_mpa(planar_mpa: float, *, flange_mm: float, web_mm: float) -> float:
    """Return the mean planar shear, MPa, allowed where a web is glued to the side of a flange.

    The planar strength itself up to a flange four webs deep, beyond it times
    (4 t / h)^0.8: a deep flange loads its glue at one edge.

    Args:
        planar_mpa: Planar (rolling) shear strength of the web, fv,90.
        flange_mm: Depth of the glued face, h.
        web_mm: Thickness of the web, t.

    Raises:
        PartError: A number cannot be.

    Source:
        EN 1995-1-1:2004, 9.1.1, for I-shaped beams (from memory).
    """
    strength = require_zero_up(planar_mpa, "planar shear strength", "MPa")
    even = EVEN_FLANGE_DEPTH * require_positive(web_mm, "web thickness", "mm")
    depth = require_positive(flange_mm, "flange depth", "mm")
    return strength * min(1.0, math.pow(even / depth, FLANGE_EXPONENT))


def tab_shear_n(shear_mpa: float, *, width_mm: float, thickness_mm: float) -> float:
    """Return the force that shears a tab off at its root, N: w t fv.

    Args:
        shear_mpa: Panel shear strength of the sheet (through its thickness, all veneers together).
        width_mm: Of the tab at its root.
        thickness_mm: Of the sheet.

    Raises:
        PartError: A number cannot be.

    Source:
        Mean stress, as panel shear strengths are told.
    """
    strength = require_zero_up(shear_mpa, "panel shear strength", "MPa")
    return strength * _section(width_mm, thickness_mm)


def tab_bearing_n(crushing_mpa: float, *, width_mm: float, thickness_mm: float) -> float:
    """Return the force that crushes a slot's wall or the tab against it, N: w t fc.

    Args:
        crushing_mpa: Compression strength of the softer of the two in the force's direction.
        width_mm: Of the tab where it presses.
        thickness_mm: Of the sheet it presses on.

    Raises:
        PartError: A number cannot be.

    Source:
        Mean pressure.
    """
    strength = require_zero_up(crushing_mpa, "compression strength", "MPa")
    return strength * _section(width_mm, thickness_mm)


def tab_bending_mpa(force_n: float, *, arm_mm: float, along_mm: float, across_mm: float) -> float:
    """Return the bending stress at the root of an unglued tab, MPa: 6 F a / (b h^2).

    Args:
        force_n: On the tab, across its length, 0 or more.
        arm_mm: From its root to where the slot presses: half the slot's sheet if it lies close,
            and the gap on top. 0 if it presses at the root.
        along_mm: Size of the root along the force, h: the width for a push in the tab's own plane,
            the thickness for one across its sheet.
        across_mm: Size of the root across the force, b: the other of the two.

    Raises:
        PartError: A number cannot be.

    Source:
        Cantilever of rectangular section, elastic. Short tabs shear before they bend: check both.
    """
    force = require_zero_up(force_n, "force", "N")
    arm = require_zero_up(arm_mm, "lever of the force", "mm")
    along = require_positive(along_mm, "root along the force", "mm")
    across = require_positive(across_mm, "root across the force", "mm")
    return 6 * force * arm / (across * along**2)


def tab_bending_n(bending_mpa: float, *, arm_mm: float, along_mm: float, across_mm: float) -> float:
    """Return the force at which an unglued tab's root reaches `bending_mpa`, N.

    Raises:
        PartError: A number cannot be, or there is no lever, so that nothing bends.

    Source:
        `tab_bending_mpa` solved for the force.
    """
    strength = require_zero_up(bending_mpa, "bending strength", "MPa")
    require_positive(arm_mm, "lever of the force", "mm")
    return strength / tab_bending_mpa(1.0, arm_mm=arm_mm, along_mm=along_mm, across_mm=across_mm)


def _area(length_mm: float, breadth_mm: float) -> float:
    length = require_positive(length_mm, "length of a glued face", "mm")
    return length * require_positive(breadth_mm, "breadth of a glued face", "mm")


def _section(width_mm: float, thickness_mm: float) -> float:
    width = require_positive(width_mm, "tab width", "mm")
    return width * require_positive(thickness_mm, "sheet thickness", "mm")
