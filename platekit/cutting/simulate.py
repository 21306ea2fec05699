"""Simulation: the part a beam really leaves, held against the part that was drawn."""

from __future__ import annotations

from platekit.errors import PartError
from platekit.geometry.profile import Profile
from platekit.geometry.sweep import SweptDifference, swept_difference

# A hundredth of a micron: far under any machine, fine enough to prove the path.
PROOF_TOLERANCE_MM = 1e-5


def simulate(
    nominal: Profile, path: Profile, *, kerf_mm: float, tolerance_mm: float = PROOF_TOLERANCE_MM
) -> SweptDifference:
    """Return how the finished part differs from `nominal` after the beam has followed `path`.

    A disc as wide as the kerf is swept along every ring of the path and taken from the sheet.
    Outside corners come out exact; each inside corner of angle a keeps a sliver that no round
    beam can reach, kerf/2 (1 / sin(a/2) - 1) from corner to round.

    Args:
        nominal: The part as it should be.
        path: Where the middle of the beam runs.
        kerf_mm: Full width of the cut.
        tolerance_mm: Chord tolerance; the answer is right within twice as much, or a few times
            more at the tip of a sharp corner.

    Raises:
        PartError: The kerf is not above 0.
    """
    if not kerf_mm > 0:
        raise PartError(f"the kerf is {kerf_mm:g} mm", remedy="give a width above 0")
    return swept_difference(nominal, path, beam_mm=kerf_mm, tolerance_mm=tolerance_mm)
