"""Which belts reach around two pulleys, and which of them is nearest to a wished distance."""

from __future__ import annotations

import math
from collections.abc import Sequence

from platekit.errors import PartError
from platekit.geometry.corners import is_number
from platekit.hardware.belts.paths import open_belt_centres_mm, open_belt_length_mm
from platekit.hardware.belts.profiles import BeltProfile

# So many lengths are named where a belt cannot reach; more would bury the message.
NAMED_LENGTHS = 5
# A hundred metres: beyond it a figure is a slip of the pen.
LONGEST_MM = 1e5


def nearest(profile: BeltProfile, teeth: tuple[int, int], centres_mm: float) -> int:
    """Return the teeth of the belt whose true centre distance is nearest to `centres_mm`.

    Among the known lengths; any whole number of teeth beyond the longest and below the shortest.

    Raises:
        PartError: The pulleys would touch at that distance.
    """
    feature = f"belt {profile.designation}, {teeth[0]} to {teeth[1]} teeth"
    require_mm(centres_mm, feature, "centre distance")
    least_mm = touching_mm(profile, teeth)
    if centres_mm < least_mm:
        raise PartError(
            f"centre distance is {centres_mm:g} mm, where both pulleys touch",
            feature=feature,
            remedy=f"give at least {least_mm:.2f} mm",
        )
    diameters = diameters_mm(profile, teeth)
    wanted = open_belt_length_mm(*diameters, centres_mm=centres_mm) / profile.pitch_mm
    least = least_belt_teeth(profile, teeth)
    lengths = [count for count in profile.lengths if count >= least]
    if not lengths or not lengths[0] <= wanted <= lengths[-1]:
        # Nothing is known there: any whole count may be made, and a finding says so.
        lengths = [max(math.floor(wanted), least), max(math.ceil(wanted), least)]

    def miss_mm(count: int) -> float:
        length_mm = count * profile.pitch_mm
        return abs(open_belt_centres_mm(*diameters, length_mm=length_mm) - centres_mm)

    return min(lengths, key=miss_mm)


def require_two(profile: BeltProfile, teeth: tuple[int, int]) -> tuple[int, int]:
    """Return `teeth` if two pulleys of this profile may have so many.

    Raises:
        PartError: They are not two whole numbers, or one is below the profile's least.
    """
    given: object = teeth  # recipes are not type-checked
    if not isinstance(given, Sequence) or len(given) != 2:
        raise PartError(
            f"belt {profile.designation} runs on pulleys of {teeth!r} teeth",
            remedy="give the teeth of two pulleys: (60, 30)",
        )
    return profile.pulley_teeth(teeth[0]), profile.pulley_teeth(teeth[1])


def require_mm(value_mm: float, feature: str, what: str) -> None:
    """Let a length above 0 pass.

    Raises:
        PartError: It is no number above 0, or beyond `LONGEST_MM`.
    """
    if not (is_number(value_mm) and 0 < value_mm <= LONGEST_MM):
        raise PartError(
            f"{what} is {value_mm!r} mm", feature=feature, remedy="give a length above 0"
        )


def require_reach(profile: BeltProfile, teeth: tuple[int, int], belt_teeth: int) -> None:
    """Let a belt pass that is long enough for pulleys that do not touch.

    Raises:
        PartError: It is too short; the message names the least and known lengths that reach.
    """
    feature = f"belt {profile.designation}, {teeth[0]} to {teeth[1]} teeth"
    if type(belt_teeth) is not int:
        raise PartError(
            f"the belt has {belt_teeth!r} teeth", feature=feature, remedy="give a whole number"
        )
    least = least_belt_teeth(profile, teeth)
    if belt_teeth < least:
        known = [str(count) for count in profile.lengths if count >= least][:NAMED_LENGTHS]
        offer = f"; known lengths that do: {', '.join(known)}" if known else ""
        raise PartError(
            f"a belt of {belt_teeth} teeth does not reach around both pulleys",
            feature=feature,
            remedy=f"give at least {least} teeth{offer}",
        )
    require_mm(belt_teeth * profile.pitch_mm, feature, "belt length")


def least_belt_teeth(profile: BeltProfile, teeth: tuple[int, int]) -> int:
    """Return the teeth of the shortest belt with which the pulleys do not touch."""
    least_mm = open_belt_length_mm(
        *diameters_mm(profile, teeth), centres_mm=touching_mm(profile, teeth)
    )
    return math.ceil(least_mm / profile.pitch_mm)


def touching_mm(profile: BeltProfile, teeth: tuple[int, int]) -> float:
    """Return the centre distance at which the toothed rings touch."""
    return sum(profile.outside_diameter_mm(count) for count in teeth) / 2


def diameters_mm(profile: BeltProfile, teeth: tuple[int, int]) -> tuple[float, float]:
    """Return the pitch diameters of both pulleys."""
    return profile.pitch_diameter_mm(teeth[0]), profile.pitch_diameter_mm(teeth[1])
