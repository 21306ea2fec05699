"""A belt on two pulleys: centre distance, teeth in mesh, travel, and what to say about it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.findings import Finding, Severity
from platekit.geometry.points import Pair
from platekit.geometry.profile import Profile
from platekit.hardware.belts.paths import (
    open_belt_centres_mm,
    open_belt_line,
    open_belt_wraps_deg,
)
from platekit.hardware.belts.profiles import BeltProfile, belt_profile
from platekit.hardware.belts.reach import (
    diameters_mm,
    nearest,
    require_mm,
    require_reach,
    require_two,
    touching_mm,
)
from platekit.hardware.blocks import Block
from platekit.hardware.items import Item

# Below this many teeth in mesh a belt carries less: ISO 5295, from memory.
FULL_MESH_TEETH = 6
LOST_BY_TOOTH = 0.2
MESH_SOURCE = "mesh factor of ISO 5295, from memory"
# Centres move this share of the belt's length to draw it tight: ISO 155, from memory.
TENSION_SHARE = 0.005
# Keeps a count of whole teeth from dropping by one where rounding leaves 15 teeth as 14.999...
SAME_TEETH = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class BeltDrive:
    """An open synchronous belt on two pulleys. Made by `belt_drive`.

    Attributes:
        profile: The belt's profile.
        teeth: Of the first pulley and the second.
        belt_teeth: Of the belt.
        width_mm: Of the belt.
        asked_mm: The centre distance that was wished for; None where the belt was given.

    Raises:
        PartError: A pulley below its least teeth, a belt too short for both, a bad width.
    """

    profile: BeltProfile
    teeth: tuple[int, int]
    belt_teeth: int
    width_mm: float
    asked_mm: float | None = None

    def __post_init__(self) -> None:
        require_two(self.profile, self.teeth)
        require_mm(self.width_mm, f"belt {self.profile.designation}", "width")
        require_reach(self.profile, self.teeth, self.belt_teeth)

    @property
    def designation(self) -> str:
        """What it is: "curvilinear 3 mm, 60 to 30 teeth"."""
        return f"{self.profile.designation}, {self.teeth[0]} to {self.teeth[1]} teeth"

    @property
    def ratio(self) -> float:
        """How often the second pulley turns while the first turns once."""
        return self.teeth[0] / self.teeth[1]

    @property
    def pitch_diameters_mm(self) -> tuple[float, float]:
        """Of the first pulley and the second."""
        return diameters_mm(self.profile, self.teeth)

    @property
    def belt_length_mm(self) -> float:
        """Length of the belt along its pitch line."""
        return self.belt_teeth * self.profile.pitch_mm

    @property
    def centres_mm(self) -> float:
        """Distance from shaft to shaft at which the belt is taut, exact."""
        return open_belt_centres_mm(*self.pitch_diameters_mm, length_mm=self.belt_length_mm)

    @property
    def wrap_deg(self) -> tuple[float, float]:
        """How far the belt lies around the first pulley and the second; 360 together."""
        return open_belt_wraps_deg(*self.pitch_diameters_mm, centres_mm=self.centres_mm)

    @property
    def teeth_in_mesh(self) -> int:
        """Whole teeth of the smaller pulley that the belt lies around."""
        teeth, wrap_deg = min(zip(self.teeth, self.wrap_deg, strict=True))
        return math.floor(teeth * wrap_deg / 360 + SAME_TEETH)

    @property
    def mesh_factor(self) -> float:
        """Share of its rated pull that the belt carries: 1 with six teeth in mesh or more.

        Source:
            ISO 5295, 1 - 0.2 (6 - z), from memory.
        """
        missing = max(FULL_MESH_TEETH - self.teeth_in_mesh, 0)
        return max(1 - LOST_BY_TOOTH * missing, 0.0)

    @property
    def fitting_mm(self) -> float:
        """How far the shafts must come nearer, so that the belt's teeth lift over one flange.

        Common practice, no source: the flange's height and the tooth's. Nothing where pulley and
        belt are put on their shafts together.
        """
        return self.profile.flange_height_mm + self.profile.tooth_height_mm

    @property
    def tension_mm(self) -> float:
        """How far the shafts must part to draw the belt tight.

        Source:
            ISO 155, 0.005 times the belt's length, from memory.
        """
        return TENSION_SHARE * self.belt_length_mm

    @property
    def travel_mm(self) -> float:
        """Least travel of the slots that one shaft is moved in: to fit the belt and to tension it.

        Source:
            The sum of `fitting_mm` (common practice) and `tension_mm` (ISO 155, from memory).
        """
        return self.fitting_mm + self.tension_mm

    def outline(self, first_at: Pair, second_at: Pair) -> Profile:
        """Return the belt seen along the shafts: from its back to the lands between its teeth.

        The teeth lie within the inner line, in the pulleys' gaps; along the straight strands they
        reach `profile.tooth_height_mm` further in.

        It is drawn taut about the places given: shafts in slots stand where the belt is tight. That
        the places are `centres_mm` apart is for whoever places them to hold it against.

        Args:
            first_at: Middle of the first pulley.
            second_at: Middle of the second.

        Raises:
            PartError: One pulley lies within the other.
            GeometryError: A place that is no point.
        """
        lands = [self.profile.outside_diameter_mm(count) for count in self.teeth]
        backs = [land_mm + 2 * self.profile.back_mm for land_mm in lands]
        outer = open_belt_line(*backs, first_at=first_at, second_at=second_at)
        inner = open_belt_line(*lands, first_at=first_at, second_at=second_at)
        return Profile(outer, (inner,))

    def block(self, first_at: Pair, second_at: Pair, *, low_mm: float = 0.0) -> Block:
        """Return the belt as a body that begins at `low_mm` along the shafts; see `outline`."""
        profile = self.outline(first_at, second_at)
        return Block("belt", profile, low_mm, low_mm + self.width_mm)

    def item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for the belt, the caution behind `note`."""
        return self.profile.item(
            self.belt_teeth, width_mm=self.width_mm, quantity=quantity, note=note
        )

    def findings(self, *, part: str) -> tuple[Finding, ...]:
        """Return what is worth knowing before the belt is bought and the slots are cut."""
        profile, feature = self.profile, f"belt {self.designation}"
        found = []
        if self.teeth_in_mesh < FULL_MESH_TEETH:
            found.append(
                Finding(
                    severity=Severity.WARNING,
                    part=part,
                    feature=feature,
                    measure="teeth in mesh",
                    value=self.teeth_in_mesh,
                    limit=FULL_MESH_TEETH,
                    source=MESH_SOURCE,
                    remedy=f"it carries {self.mesh_factor:.0%} of its rated pull: more teeth on "
                    "the small pulley, or shafts further apart",
                )
            )
        flanged_mm = touching_mm(profile, self.teeth) + 2 * profile.flange_height_mm
        if self.centres_mm < flanged_mm:
            found.append(
                Finding(
                    severity=Severity.WARNING,
                    part=part,
                    feature=feature,
                    measure="centre distance",
                    value=self.centres_mm,
                    limit=flanged_mm,
                    unit="mm",
                    source="flanges as high as the belt is thick, common practice, no source",
                    remedy="flanges of both pulleys may touch: flanges on one only, a longer belt",
                )
            )
        if self.belt_teeth not in profile.lengths:
            found.append(self._note(part, "belt not among the known lengths: teeth", _stock(self)))
        if not profile.has_width(self.width_mm):
            widths = ", ".join(f"{width_mm:g}" for width_mm in profile.widths_mm)
            remedy = f"ask whether it is sold so wide; usual: {widths} mm"
            found.append(self._note(part, "belt width", remedy, width=True))
        if self.asked_mm is not None and abs(self.asked_mm - self.centres_mm) > self.tension_mm:
            found.append(
                Finding(
                    severity=Severity.NOTE,
                    part=part,
                    feature=feature,
                    measure="centre distance of the nearest belt",
                    value=self.centres_mm,
                    limit=self.asked_mm,
                    unit="mm",
                    source="exact length of an open belt",
                    remedy="place the shafts by centres_mm, not by the distance asked for",
                )
            )
        return tuple(found)

    def _note(self, part: str, measure: str, remedy: str, *, width: bool = False) -> Finding:
        profile = self.profile
        return Finding(
            severity=Severity.NOTE,
            part=part,
            feature=f"belt {self.designation}",
            measure=measure,
            value=self.width_mm if width else self.belt_teeth,
            unit="mm" if width else "",
            source=profile.source if width else profile.lengths_source,
            remedy=remedy,
        )


def belt_drive(
    profile: str | BeltProfile,
    *,
    teeth: tuple[int, int],
    width_mm: float,
    belt_teeth: int | None = None,
    centres_mm: float | None = None,
) -> BeltDrive:
    """Return a belt drive for a given belt, or with the belt nearest to a wished distance.

    ``belt_drive("curvilinear 3 mm", teeth=(60, 30), belt_teeth=120, width_mm=9).centres_mm``

    Args:
        profile: The belt's profile or its designation.
        teeth: Of the first pulley and the second.
        width_mm: Of the belt.
        belt_teeth: Of the belt; its `centres_mm` follow.
        centres_mm: Distance wished for. The known length nearest to it is taken, the nearest
            whole number of teeth where none so long or short is known; the drive's own
            `centres_mm` is the true distance.

    Raises:
        PartError: Both are given or neither; a pulley below its least teeth; a belt or distance
            too short for both pulleys, with lengths that do; a size that cannot be.
        UnknownNameError: No such profile.
    """
    kind = belt_profile(profile) if isinstance(profile, str) else profile
    if (belt_teeth is None) == (centres_mm is None):
        raise PartError(
            f"belt {kind.designation} is given both by teeth and by centres, or by neither",
            remedy="give belt_teeth, or centres_mm",
        )
    if belt_teeth is None:
        belt_teeth = nearest(kind, require_two(kind, teeth), centres_mm or 0.0)
    return BeltDrive(
        profile=kind, teeth=teeth, belt_teeth=belt_teeth, width_mm=width_mm, asked_mm=centres_mm
    )


def _stock(drive: BeltDrive) -> str:
    """Return what to do about a length that is not known."""
    lengths = drive.profile.lengths
    if not lengths:
        return "no length of this profile is known here: ask a seller before cutting"
    below = [count for count in lengths if count < drive.belt_teeth][-1:]
    above = [count for count in lengths if count > drive.belt_teeth][:1]
    near = " or ".join(str(count) for count in (*below, *above))
    return f"ask a seller before cutting, or take {near} teeth"
