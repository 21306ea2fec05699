"""What is mounted through a hole in a panel: buttons, sockets, glands; front above, rest below."""

from __future__ import annotations

from platekit.errors import PartError, concerning
from platekit.geometry.chains import Contour, circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.hardware.blocks import ORIGIN, Block, cylinder
from platekit.hardware.devices.device import Device, Fixing, Passage
from platekit.hardware.faces.cutouts import CableGland, PanelCutout, cable_gland, panel_cutout
from platekit.hardware.faces.openings import opening_of
from platekit.hardware.fasteners.clearance import clearance_hole_mm
from platekit.hardware.lengths import require_part_mm

# Plain polyamide glands; common practice, no source. Long threads of 15 mm are made as well.
GLAND_THREAD_MM = 10.0
GLAND_HEAD_MM = 30.0
LOCK_NUT_MM = 5.0


def panel_device(
    designation: str | PanelCutout,
    *,
    front_mm: float | None = None,
    behind_mm: float | None = None,
) -> Device:
    """Return a switch, socket or other device that is put through a panel from its front.

    Args:
        designation: ``"emergency stop 22 mm"``, or a cut-out of your own table.
        front_mm: How far it stands out in front; left out, the table's usual reach.
        behind_mm: How far it reaches behind the panel's face, tags and plugs included; left out,
            the table's usual reach.

    Raises:
        UnknownNameError: An unknown device; the message lists the known ones.
        PartError: A size that cannot be, or one that neither table nor recipe gives.
    """
    cut = panel_cutout(designation) if isinstance(designation, str) else designation
    with concerning(part=cut.designation):
        front = require_part_mm(cut.front_reach_mm if front_mm is None else front_mm, "front_mm")
        reach = cut.behind_reach_mm if behind_mm is None else behind_mm
        if reach is None:
            raise PartError("how far it reaches behind is not known", remedy="give behind_mm")
        blocks, passage = _through(
            opening_of(cut),
            behind_mm=require_part_mm(reach, "behind_mm"),
            wide_mm=cut.behind_width_mm,
            panel_mm=cut.most_panel_mm,
        )
        return Device(
            designation=cut.designation,
            blocks=(*_front(cut, front), *blocks),
            passages=(passage,),
            fixing=_screwed(cut),
            items=(cut.item(),),
            room_mm=cut.room_mm,
            most_panel_mm=cut.most_panel_mm,
            hazards=cut.hazards,
            doubt=cut.doubt,
            source=cut.source,
        )


def gland(
    thread: str | CableGland,
    *,
    thread_length_mm: float = GLAND_THREAD_MM,
    head_mm: float = GLAND_HEAD_MM,
) -> Device:
    """Return a cable gland, its head on the face, its lock nut behind the plate.

    Args:
        thread: ``"M20"``.
        thread_length_mm: Length of the thread below its head; the plate and a 5 mm lock nut must
            find room on it (common practice, no source).
        head_mm: How far the head stands out, the cable's own stiff stretch included.

    Raises:
        UnknownNameError: An unknown gland; the message lists the known ones.
        PartError: A size that cannot be, or a thread too short for its nut.
    """
    given = cable_gland(thread) if isinstance(thread, str) else thread
    with concerning(part=f"cable gland {given.thread}"):
        length = require_part_mm(thread_length_mm, "thread_length_mm")
        panel = length - LOCK_NUT_MM
        if panel <= 0:
            raise PartError(
                f"its thread of {length:g} mm is shorter than its lock nut",
                remedy=f"give thread_length_mm above {LOCK_NUT_MM:g}",
            )
        head = require_part_mm(head_mm, "head_mm")
        blocks, passage = _through(
            circle(ORIGIN, diameter_mm=given.hole_diameter_mm),
            behind_mm=length,
            wide_mm=given.room_mm,
            panel_mm=panel,
        )
        return Device(
            designation=f"cable gland {given.thread}",
            blocks=(cylinder("head", given.room_mm, low_mm=0.0, high_mm=head), *blocks),
            passages=(passage,),
            items=(given.item(note=f"thread {length:g} mm long"),),
            room_mm=given.room_mm,
            most_panel_mm=panel,
            doubt=(
                f"thread of {length:g} mm and lock nut of {LOCK_NUT_MM:g} mm: check them; plates "
                f"over {panel:g} mm need a longer thread (thread_length_mm)"
            ),
            source=given.source,
        )


def _front(cut: PanelCutout, front_mm: float) -> tuple[Block, ...]:
    """Return what stands in front; screws pass through its flange, so their heads stay free."""
    if cut.front_height_mm is None:
        outer = circle(ORIGIN, diameter_mm=cut.front_width_mm)
    else:
        outer = rectangle(cut.front_width_mm, cut.front_height_mm, centre=ORIGIN)
    if cut.flange_mm is None:
        return (Block("front", Profile(outer), 0.0, front_mm),)
    hole_mm = clearance_hole_mm(cut.screw)
    holes = tuple(circle(point, diameter_mm=hole_mm) for point in cut.screw_points)
    flange = Block("flange", Profile(outer, holes), 0.0, cut.flange_mm)
    if front_mm <= cut.flange_mm:
        return (flange,)
    return (flange, Block("front", Profile(opening_of(cut)), cut.flange_mm, front_mm))


def _screwed(cut: PanelCutout) -> Fixing | None:
    if not cut.screw_points:
        return None
    return Fixing(thread=cut.screw, points=cut.screw_points, flange_mm=cut.flange_mm)


def _through(
    opening: Contour, *, behind_mm: float, wide_mm: float, panel_mm: float | None
) -> tuple[tuple[Block, ...], Passage]:
    """Return what lies in the opening and behind it, and the passage.

    Behind the thickest plate it can clamp the device spreads; where that is not known it is taken
    as no wider than its opening, and where that is round, as wide as it is behind.
    """
    neck = behind_mm if panel_mm is None else min(panel_mm, behind_mm)
    core = opening
    if panel_mm is None and opening.is_circle and wide_mm < opening.bounds.width_mm:
        core = circle(ORIGIN, diameter_mm=wide_mm)
    blocks = [Block("neck", Profile(core), -neck, 0.0)]
    if behind_mm > neck:
        blocks.append(cylinder("behind", wide_mm, low_mm=-behind_mm, high_mm=-neck))
    return tuple(blocks), Passage("opening", core, opening, -neck, 0.0)
