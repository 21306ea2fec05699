"""What friction holds in a split hub: two halves drawn together on a shaft by bolts.

How the pressure spreads decides how much: a bore that fits presses all round, a bore a little too
large only along two lines. The truth lies between; the two-line form is the careful one. Friction
of 0.1 to 0.15 for steel on steel as it comes is common practice, no source. A clamp of plywood
creeps: its bolts lose their pull within weeks, and none of these torques is then there.

A clamp that slips lets go of what it holds up: where somebody can be hurt, add a key or a pin.
"""

from __future__ import annotations

import math

from platekit.errors import PartError
from platekit.formulas.quantities import require_positive, require_whole, require_zero_up


def clamp_torque_all_round_nmm(*, clamp_force_n: float, friction: float, shaft_mm: float) -> float:
    """Return the torque two half shells hold, pressing evenly all round: (pi/2) mu Q D, in N mm.

    Args:
        clamp_force_n: Force Q that draws the halves together: all bolts on this shaft.
        friction: Friction coefficient mu, above 0.
        shaft_mm: Shaft diameter D.

    Raises:
        PartError: A number is impossible.

    Source:
        Derived: pressure Q / (D L) on a skin of pi D L at half a diameter. The same as the clamp
        coupling of Khurmi & Gupta, Machine Design, ch. 13 (from memory).
    """
    return (
        math.pi
        / 2
        * clamp_torque_two_lines_nmm(
            clamp_force_n=clamp_force_n, friction=friction, shaft_mm=shaft_mm
        )
    )


def clamp_torque_two_lines_nmm(*, clamp_force_n: float, friction: float, shaft_mm: float) -> float:
    """Return the torque two halves hold that touch along one line each: mu Q D, in N mm.

    Args:
        clamp_force_n: Force Q that draws the halves together: all bolts on this shaft.
        friction: Friction coefficient mu, above 0.
        shaft_mm: Shaft diameter D.

    Raises:
        PartError: A number is impossible.

    Source:
        Derived: each line carries the whole of Q and rubs at half a diameter.
    """
    force = require_zero_up(clamp_force_n, "clamp force", "N")
    return (
        require_positive(friction, "friction") * force * require_positive(shaft_mm, "shaft", "mm")
    )


def clamp_force_n(*, torque_nmm: float, friction: float, shaft_mm: float) -> float:
    """Return the clamp force that holds `torque_nmm` in the careful, two-line case, in N.

    Args:
        torque_nmm: Torque to hold, margin included.
        friction: Friction coefficient, above 0.
        shaft_mm: Shaft diameter.

    Raises:
        PartError: A number is impossible.

    Source:
        `clamp_torque_two_lines_nmm` solved for the force.
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    return torque / clamp_torque_two_lines_nmm(
        clamp_force_n=1.0, friction=friction, shaft_mm=shaft_mm
    )


def clamp_coupling_torque_nmm(
    *, bolts: int, core_mm: float, bolt_stress_mpa: float, friction: float, shaft_mm: float
) -> float:
    """Return what a clamp coupling between two shafts passes on, in N mm.

    T = (pi^2 / 16) mu d^2 sigma n D: half of the n bolts sit on each shaft, and each shaft must
    hold the whole torque, pressed evenly all round.

    Args:
        bolts: Bolts n in all; an even number.
        core_mm: Core diameter d of their thread.
        bolt_stress_mpa: Tensile stress sigma in the core when tightened.
        friction: Friction coefficient mu.
        shaft_mm: Shaft diameter D.

    Raises:
        PartError: A number is impossible, or the bolts are odd in number.

    Source:
        Khurmi & Gupta, Machine Design, ch. 13, clamp or compression coupling (from memory).
    """
    if require_whole(bolts, "bolts", least=2) % 2:
        raise PartError(f"bolts is {bolts}", remedy="give as many bolts to one shaft as the other")
    core = require_positive(core_mm, "core diameter", "mm")
    stress = require_zero_up(bolt_stress_mpa, "bolt stress", "MPa")
    return clamp_torque_all_round_nmm(
        clamp_force_n=bolts / 2 * math.pi / 4 * core**2 * stress,
        friction=friction,
        shaft_mm=shaft_mm,
    )
