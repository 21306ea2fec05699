"""Pulls in a toothed belt: what a torque asks of it, and what its shafts carry.

Limits, the pull a belt may take for each mm of width, are its maker's: inputs here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import (
    require_between,
    require_positive,
    require_whole,
    require_zero_up,
)

# Teeth in mesh from which a belt carries its full pull, and down to which nothing: ISO 5295, from
# memory.
FULL_MESH_TEETH = 6
NO_MESH_TEETH = 1
# Tight side over slack side of a toothed belt well set: common practice, no source.
TENSION_RATIO = 8.0


def effective_pull_n(torque_nmm: float, pitch_diameter_mm: float) -> float:
    """Return the difference of tight and slack side: 2 T / d.

    Raises:
        PartError: A number cannot be.

    Source:
        Moments about the shaft.
    """
    require_zero_up(torque_nmm, "torque", "N mm")
    require_positive(pitch_diameter_mm, "pitch diameter", "mm")
    return 2 * torque_nmm / pitch_diameter_mm


def belt_speed_mm_per_s(speed_rpm: float, pitch_diameter_mm: float) -> float:
    """Return the speed of a belt: circumference times turns in a second.

    Raises:
        PartError: A number cannot be.

    Source:
        Rolling: pi d n.
    """
    require_zero_up(speed_rpm, "speed", "rpm")
    require_positive(pitch_diameter_mm, "pitch diameter", "mm")
    return math.pi * pitch_diameter_mm * speed_rpm / 60


def mesh_factor(teeth_in_mesh: int) -> float:
    """Return the share of its pull that a belt carries with so many whole teeth in mesh.

    Raises:
        PartError: A number cannot be.

    Source:
        ISO 5295: 1 - 0.2 (6 - z) below six teeth, from memory; written from one tooth up, as
        (z - 1) / 5, which is the same line.
    """
    require_whole(teeth_in_mesh, "teeth in mesh", least=0)
    meshed = min(max(teeth_in_mesh, NO_MESH_TEETH), FULL_MESH_TEETH)
    return (meshed - NO_MESH_TEETH) / (FULL_MESH_TEETH - NO_MESH_TEETH)


@dataclass(frozen=True, slots=True, kw_only=True)
class BeltPulls:
    """Pulls in the two spans of a running belt.

    Attributes:
        tight_n: In the span drawn towards the driving pulley.
        slack_n: In the other.
    """

    tight_n: float
    slack_n: float

    @property
    def effective_n(self) -> float:
        """What drives: the difference."""
        return self.tight_n - self.slack_n

    @property
    def static_n(self) -> float:
        """Pull of each span at rest: the mean, as both spans stretch alike and share one length."""
        return (self.tight_n + self.slack_n) / 2

    def shaft_load_n(self, wrap_deg: float = 180.0) -> float:
        """Return the load across a shaft: both pulls added as arrows.

        Args:
            wrap_deg: How far the belt lies around the pulley, 0 to 360; 180 for equal pulleys.

        Raises:
            PartError: A number cannot be.

        Source:
            Triangle of forces: root of T1^2 + T2^2 - 2 T1 T2 cos(wrap).
        """
        require_between(wrap_deg, "wrap", 0, 360, "degrees")
        cosine = math.cos(math.radians(wrap_deg))
        squared = self.tight_n**2 + self.slack_n**2 - 2 * self.tight_n * self.slack_n * cosine
        return math.sqrt(max(squared, 0.0))


def belt_pulls(effective_n: float, *, tension_ratio: float = TENSION_RATIO) -> BeltPulls:
    """Return the pulls of a belt set so that its slack side still holds the teeth down.

    Args:
        effective_n: Difference of the two, see `effective_pull_n`.
        tension_ratio: Tight over slack, above 1; 8 is common practice, no source. The belt's maker
            may ask for more static pull.

    Raises:
        PartError: A ratio of 1 or less would pull nothing.

    Source:
        Tight less slack is the pull, tight over slack the ratio; statics.
    """
    require_zero_up(effective_n, "effective pull", "N")
    require_positive(tension_ratio, "tension ratio")
    if tension_ratio <= 1:
        raise PartError(f"tension ratio is {tension_ratio:g}", remedy="give more than 1")
    slack_n = effective_n / (tension_ratio - 1)
    return BeltPulls(tight_n=slack_n * tension_ratio, slack_n=slack_n)


def pulls_at_static(effective_n: float, *, static_n: float) -> BeltPulls:
    """Return the pulls of a belt that was set to a static pull: that, plus and minus half.

    Raises:
        PartError: The slack side would go loose and the belt jump teeth.

    Source:
        Both spans stretch alike, so that one gains what the other loses; statics.
    """
    require_zero_up(effective_n, "effective pull", "N")
    require_positive(static_n, "static pull", "N")
    if static_n < effective_n / 2:
        raise PartError(
            f"static pull is {static_n:g} N, the slack side goes loose at {effective_n:g} N",
            remedy=f"set it to more than {effective_n / 2:g} N",
        )
    return BeltPulls(tight_n=static_n + effective_n / 2, slack_n=static_n - effective_n / 2)


def needed_width_mm(
    effective_n: float, *, limit_n_per_mm: float, teeth_in_mesh: int, service_factor: float = 1.0
) -> float:
    """Return the least width of a belt: pull times service over limit times mesh factor.

    Args:
        effective_n: Difference of tight and slack side.
        limit_n_per_mm: Pull its maker allows for each mm of width at the belt's speed.
        teeth_in_mesh: Whole teeth in mesh on the smaller pulley.
        service_factor: For shocks and running hours, 1 or more; its maker's table.

    Raises:
        PartError: Fewer than two teeth in mesh carry nothing.

    Source:
        Form of ISO 5295, from memory.
    """
    require_zero_up(effective_n, "effective pull", "N")
    require_positive(limit_n_per_mm, "limit of pull", "N/mm")
    require_positive(service_factor, "service factor")
    factor = mesh_factor(teeth_in_mesh)
    if factor == 0:
        raise PartError(
            f"teeth in mesh are {teeth_in_mesh}: they carry nothing",
            remedy="take a larger pulley or part the shafts further",
        )
    return effective_n * service_factor / (limit_n_per_mm * factor)
