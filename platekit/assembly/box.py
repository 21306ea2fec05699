"""Boxes and grids: whole assemblies from their outer sizes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal, get_args

from platekit.assembly.assembly import Assembly
from platekit.assembly.joints import Joint, screwed, tabs
from platekit.assembly.panels import Panel
from platekit.assembly.placing import lying, standing
from platekit.errors import PartError, concerning
from platekit.geometry.shapes import rectangle
from platekit.hardware import screw
from platekit.materials import Hold, Sheet
from platekit.panel.measures import require_count, require_length, require_shift
from platekit.panel.plate import Plate

Lid = Literal["none", "joined", "screwed"]


def box(
    name: str,
    sheet: Sheet,
    *,
    width_mm: float,
    depth_mm: float,
    height_mm: float,
    lid: Lid = "none",
    thread: str = "M4",
    overhang_mm: float | None = None,
    shelves_mm: Sequence[float] = (),
    dividers_mm: Sequence[float] = (),
) -> Assembly:
    """Return a box of plates, from its outer sizes.

    Panels are called bottom, front, back, left, right and lid, then "shelf 1"... and
    "divider 1"...; take one away with ``without("front")``, cut into one with
    ``with_features("front", ...)``. Walls are drawn as seen from outside, the bottom, lid and
    shelves as seen from above, each from its lower left corner.

    Args:
        name: What the box is called.
        sheet: What it is cut from.
        width_mm: Outer size along x.
        depth_mm: Outer size along y.
        height_mm: Outer size along z, the lid included.
        lid: "none" leaves it open, "joined" closes it for good, "screwed" holds it with screws
            into nut pockets in front and back.
        thread: Thread of the lid's screws.
        overhang_mm: How far a screwed lid stands out beyond the walls; left out, as far as its
            screw holes need to keep a web to the edge.
        shelves_mm: Heights of the undersides of shelves, from the box's foot.
        dividers_mm: Distances of the left faces of upright dividers, from the box's left face.

    Raises:
        PartError: A size that cannot be, or a shelf or divider outside the box.
        UnknownNameError: No such thread.
    """
    t = sheet.thickness_mm
    with concerning(part=name):
        w = require_length(width_mm, "width")
        d = require_length(depth_mm, "depth")
        h = require_length(height_mm, "height")
        for size, what in ((w, "width"), (d, "depth"), (h, "height")):
            if size <= 2 * t:
                raise PartError(
                    f"{what} is {size:g} mm with a sheet of {t:g} mm",
                    remedy="make it more than two thicknesses",
                )
        if lid not in get_args(Lid):
            raise PartError(f"lid is {lid!r}", remedy=f"give one of {', '.join(get_args(Lid))}")
        shelves = _inside(shelves_mm, "shelf", h - t)
        dividers = _inside(dividers_mm, "divider", w - t)

    def plate(called: str, x_mm: float, y_mm: float) -> Plate:
        return Plate(called, sheet, rectangle(x_mm, y_mm))

    panels: list[Panel] = [
        lying(plate("bottom", w, d)),
        standing(plate("front", w, h), facing="front"),
        standing(plate("back", w, h), facing="back", back_mm=d),
        standing(plate("left", d, h), facing="left"),
        standing(plate("right", d, h), facing="right", right_mm=w),
    ]
    joints: list[Joint] = []
    if lid == "joined":
        panels.append(lying(plate("lid", w, d), top_mm=h))
    elif lid == "screwed":
        over = _overhang(sheet, thread) if overhang_mm is None else overhang_mm
        with concerning(part=name):
            over = require_length(over, "overhang", zero=True)
        top = plate("lid", w + 2 * over, d + 2 * over)
        panels.append(lying(top, left_mm=-over, front_mm=-over, top_mm=h))
        joints += [screwed(wall, to="lid", thread=thread) for wall in ("front", "back")]
        joints += [tabs(wall, into="lid", hold=Hold.SLIP) for wall in ("left", "right")]
    for k, height in enumerate(shelves, start=1):
        panels.append(lying(plate(f"shelf {k}", w, d), bottom_mm=height))
    head = h - t if lid == "screwed" else h  # dividers stop below a lid that comes off
    for k, left in enumerate(dividers, start=1):
        panels.append(standing(plate(f"divider {k}", d, head), facing="right", left_mm=left))
    return Assembly(name).with_panels(*panels).with_joints(*joints)


def crossed_ribs(
    name: str,
    sheet: Sheet,
    *,
    width_mm: float,
    depth_mm: float,
    height_mm: float,
    lengthwise: int = 2,
    crosswise: int = 3,
) -> Assembly:
    """Return a grid of upright ribs that cross in halving joints.

    Ribs are called "long 1"... from the front and "cross 1"... from the left; all stand on the
    floor, evenly spread, the outer ones a quarter of the spacing in from the ends of the others.

    Args:
        name: What the grid is called.
        sheet: What it is cut from.
        width_mm: Length of the lengthwise ribs, along x.
        depth_mm: Length of the crosswise ribs, along y.
        height_mm: Height of all.
        lengthwise: How many run along x.
        crosswise: How many run along y.

    Raises:
        PartError: A size or count that cannot be, or ribs so many that they touch.
    """
    with concerning(part=name):
        w = require_length(width_mm, "width")
        d = require_length(depth_mm, "depth")
        h = require_length(height_mm, "height")
        rows = _spread(d, require_count(lengthwise, "lengthwise ribs"), sheet, "lengthwise")
        columns = _spread(w, require_count(crosswise, "crosswise ribs"), sheet, "crosswise")
    long = [
        standing(
            Plate(f"long {k}", sheet, rectangle(w, h)), facing="front", left_mm=0, middle_y_mm=y
        )
        for k, y in enumerate(rows, start=1)
    ]
    cross = [
        standing(
            Plate(f"cross {k}", sheet, rectangle(d, h)), facing="right", middle_x_mm=x, front_mm=0
        )
        for k, x in enumerate(columns, start=1)
    ]
    return Assembly(name).with_panels(*long, *cross)


def _spread(length_mm: float, count: int, sheet: Sheet, what: str) -> tuple[float, ...]:
    """Return middles evenly spread, ends a quarter of the spacing (half, for one) from the edge."""
    if count == 1:
        return (length_mm / 2,)
    step = length_mm / (count - 0.5)
    if step / 4 < 1.5 * sheet.thickness_mm:
        raise PartError(
            f"{count} {what} ribs stand {step:.4g} mm apart with a sheet of "
            f"{sheet.thickness_mm:g} mm",
            remedy="use fewer, or make the grid larger",
        )
    return tuple(step / 4 + k * step for k in range(count))


def _inside(places_mm: Sequence[float], what: str, most_mm: float) -> tuple[float, ...]:
    for place in places_mm:
        require_shift(place, f"place of a {what}")
        if not 0 < place < most_mm:
            raise PartError(
                f"a {what} is placed at {place:g} mm",
                remedy=f"place it inside the box, above 0 and below {most_mm:g} mm",
            )
    return tuple(places_mm)


def _overhang(sheet: Sheet, thread: str) -> float:
    """Return how far a lid stands out for the webs beside its screw holes and slots."""
    hole = (screw(thread).clearance_mm() - sheet.thickness_mm) / 2
    slot = sheet.material.fits.of("screwed").clearance_mm(Hold.SLIP) / 2
    return max(0.0, math.ceil(2 * (sheet.least_web_mm + max(hole, slot))) / 2)
