"""Carving: cutting a plate to its joints, and checking what is left of it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from platekit.assembly.fitting import Opening
from platekit.errors import PartError
from platekit.geometry.booleans import difference
from platekit.geometry.boxes import meeting_pairs
from platekit.geometry.chains import Contour
from platekit.geometry.distance import distance
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats
from platekit.panel.feature import Placed
from platekit.panel.plate import Plate


def carved(plate: Plate, openings: Sequence[Opening], *, hardware: Sequence[Placed] = ()) -> Plate:
    """Return a plate cut to its joints, the joints' own screw holes among its features.

    Args:
        plate: The plate: outline and features.
        openings: Rectangles its joints take from it.
        hardware: Slots and holes for its joints' screws.

    Raises:
        PartError: Nothing or several pieces would be left, or a feature or screw lies in what a
            joint takes away, off what is left, or over another.
    """
    if not openings and not hardware:
        return plate
    _require_kept(plate, openings)
    _require_clear_of_slots(plate, hardware)
    pieces = difference(plate.outline, *(Profile(opening.shape) for opening in openings))
    if len(pieces) != 1:
        raise _broken(plate, pieces, openings)
    return Plate(
        plate.name,
        plate.sheet,
        pieces[0],
        features=(*plate.features, *hardware),
        grain=plate.grain,
        laying=plate.laying,
        least_web_mm=plate.least_web_mm,
        lettered=plate.lettered,
    )


def _require_kept(plate: Plate, openings: Sequence[Opening]) -> None:
    """Raise when a joint takes away material that a feature was cut into.

    Raises:
        PartError: Names the plate, the feature and the joint.
    """
    cuts = [(one, cut) for one in plate.features for cut in one.cuts if not one.opens_edge]
    if not cuts or not openings:
        return
    shapes = [opening.shape for opening in openings]
    mine, theirs = meeting_pairs(_boxes([cut for _, cut in cuts]), _boxes(shapes))
    for k, n in zip(mine.tolist(), theirs.tolist(), strict=True):
        feature, cut = cuts[k]
        if distance(Profile(cut), Profile(shapes[n])) > 0.0:
            continue
        cession = openings[n].cession
        raise PartError(
            f"it lies in what the joint {cession.joint.label} takes away, around "
            f"{cession.meeting.where((cession.start_mm + cession.end_mm) / 2)}",
            part=plate.name,
            feature=feature.name,
            remedy=f"move it clear of {cession.owner}, or join the two another way",
        )


def _require_clear_of_slots(plate: Plate, hardware: Sequence[Placed]) -> None:
    """Raise when a feature lies in a slot that a joint's screw needs.

    Raises:
        PartError: Names the plate, the feature and the slot.
    """
    for slot in hardware:
        if not slot.opens_edge:
            continue  # a hole: the plate itself compares it with its other cuts
        for feature in plate.features:
            if any(
                distance(Profile(cut), Profile(taken)) == 0.0
                for cut in feature.cuts
                for taken in slot.cuts
            ):
                raise PartError(
                    f"it lies over {slot.name!r}, which a joint's screw needs",
                    part=plate.name,
                    feature=feature.name,
                    remedy="move it, or give the joint fewer screws or a smaller thread",
                )


def _broken(plate: Plate, pieces: Sequence[Profile], openings: Sequence[Opening]) -> PartError:
    """Return the error for a plate its joints cut to pieces, or away altogether."""
    if not pieces:
        labels = sorted({opening.cession.joint.label for opening in openings})
        return PartError(
            f"its joints take all of it: {', '.join(labels)}",
            part=plate.name,
            remedy="let it reach further, or join it another way",
        )
    least = min(pieces, key=lambda piece: piece.area_mm2)
    around = [o for o in openings if distance(o.shape, least) < 1.0]
    labels = sorted({opening.cession.joint.label for opening in around})
    met = around[0].cession.meeting if around else openings[0].cession.meeting
    frame = met.claim_of(plate.name).panel.frame if plate.name in met.names else None
    centre = least.centroid
    where = f"({centre.x:.4g}, {centre.y:.4g}) on it"
    if frame is not None:
        x, y, z = frame.point(*centre)
        where = f"x {x:.4g}, y {y:.4g}, z {z:.4g} mm"
    return PartError(
        f"its joints cut it into {len(pieces)} pieces, the least of {least.area_mm2:.4g} mm2 "
        f"around {where}: {', '.join(labels)}",
        part=plate.name,
        remedy="use fewer or wider fingers there, give the other panel the first finger, or let "
        "one of the panels end sooner",
    )


def _boxes(shapes: Sequence[Contour]) -> Floats:
    boxes = [shape.bounds for shape in shapes]
    return np.array([(box.left, box.bottom, box.right, box.top) for box in boxes])
