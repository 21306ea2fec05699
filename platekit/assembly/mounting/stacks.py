"""Stacks: which screw, washers and nut hold together what lies against each other.

The length follows from what is gripped: change the sheet and the screw changes, or a finding says
that none is made in the length asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from platekit.assembly.frames import Frame
from platekit.assembly.mounting.bodies import Body, BodyKind, Fastening, flipped, tool_room
from platekit.findings import Finding, Severity
from platekit.hardware import (
    Item,
    Metal,
    Nut,
    ScrewKind,
    Washer,
    least_engagement_mm,
    washer,
)

# More washers than this under one head look like what they are: the wrong screw.
MOST_WASHERS = 3
USUAL_WASHER = "ISO 7089"
# What holds a part at all: about four turns of a coarse thread (common practice, no source). The
# cases of supplies are tapped no deeper.
FEWEST_DIAMETERS = 0.8
# A thread this much of what full strength asks is short, yet not by much.
SLIGHTLY_SHORT = 0.75
# The tip of a screw must not touch the ground of its tapped hole (common practice, no source).
TIP_ROOM_MM = 0.5
# A nut's last thread carries only if the screw shows beyond it (common practice, no source).
PITCHES_SHOWN = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """What one screw holds together.

    Attributes:
        name: What messages call the screw.
        part: The panel and the thing held, for messages.
        note: For the bill: what it is for.
        frame: Origin on the face its head or washer lies on; n points out of the stack.
        grip_mm: How much lies between that face and the nut or the tapped hole.
        holds: Names of what it holds together.
        spacer_mm: Length of the spacer in the stack; 0 for none.
    """

    name: str
    part: str
    note: str
    frame: Frame
    grip_mm: float
    holds: tuple[str, ...]
    spacer_mm: float = 0.0


@dataclass(frozen=True)
class Chosen:
    """What came of one grip.

    Attributes:
        fastening: The screw with what belongs to it; None where none is made in that length.
        items: Lines of the bill.
        findings: What cannot be.
    """

    fastening: Fastening | None
    items: tuple[Item, ...]
    findings: tuple[Finding, ...]


def washer_for(kind: ScrewKind) -> Washer | None:
    """Return the washer that goes under a head; none under one that lies flush."""
    return None if kind.flush else washer(USUAL_WASHER, kind.thread)


def tapped(grip: Grip, kind: ScrewKind, *, into: str, depth_mm: float, metal: Metal) -> Chosen:
    """Return the screw that goes through a stack into a tapped hole.

    Enough thread must engage for the metal, and the tip must not touch the ground. Where no
    length made fits with one washer, up to three are tried; then whatever engages by 0.8 diameters
    at least, and a finding says by how much the thread is short.

    Args:
        grip: What is gripped, from the head's face to the mouth of the tapped hole.
        kind: The screw.
        into: Name of the device that is tapped.
        depth_mm: Usable depth of its thread.
        metal: What the thread is cut in.
    """
    full = least_engagement_mm(kind.thread, metal)
    most = depth_mm - TIP_ROOM_MM
    under = washer_for(kind)
    thick = under.height_mm if under is not None else 0.0
    counts = range(1, MOST_WASHERS + 1) if under is not None else (0,)
    ways = [
        (count, length, length - grip.grip_mm - count * thick)
        for count in counts
        for length in kind.lengths_mm
    ]
    firm = [way for way in ways if full <= way[2] <= most]
    if firm:
        count, length, _ = firm[0]
        return _made(grip, kind, length, washers=count, threaded_in=into)
    least = min(full, FEWEST_DIAMETERS * kind.nominal_mm)
    light = [way for way in ways if least <= way[2] <= most]
    if light:
        count, length, engaged = max(light, key=lambda way: way[2])
        made = _made(grip, kind, length, washers=count, threaded_in=into)
        said = _short_thread(grip, kind, engaged, full, metal)
        return replace(made, findings=(said,))
    stack = grip.grip_mm + (thick if under is not None else 0.0)
    return Chosen(None, (), (_none_made(grip, kind, stack + least, stack + most),))


def nutted(
    grip: Grip,
    kind: ScrewKind,
    closing: Nut,
    *,
    washer_on_nut: bool = True,
    head_washer: bool = True,
) -> Chosen:
    """Return the bolt that goes through a stack and takes a nut.

    Args:
        grip: What is gripped, from the head's face to the nut's.
        kind: The screw.
        closing: The nut.
        washer_on_nut: Whether a washer lies under the nut.
        head_washer: Whether one lies under the head.
    """
    under = washer_for(kind) if head_washer else None
    beyond = washer(USUAL_WASHER, kind.thread) if washer_on_nut else None
    stack = grip.grip_mm + sum(one.height_mm for one in (under, beyond) if one is not None)
    least = stack + closing.height_mm + PITCHES_SHOWN * kind.pitch_mm
    fitting = [n for n in kind.lengths_mm if n >= least]
    if not fitting:
        return Chosen(None, (), (_none_made(grip, kind, least, None),))
    return _made(
        grip,
        kind,
        fitting[0],
        washers=1 if under is not None else 0,
        closing=closing,
        beyond=beyond,
    )


def _made(
    grip: Grip,
    kind: ScrewKind,
    length_mm: float,
    *,
    washers: int,
    threaded_in: str = "",
    closing: Nut | None = None,
    beyond: Washer | None = None,
) -> Chosen:
    under = washer(USUAL_WASHER, kind.thread)
    frame, name = grip.frame, grip.name
    head = frame.lifted(washers * under.height_mm)
    screw_body = Body(name, BodyKind.SCREW, kind.blocks(length_mm), head)
    others = [
        Body(f"{name} washer", BodyKind.WASHER, under.blocks(), frame.lifted(k * under.height_mm))
        for k in range(washers)
    ]
    items = [kind.item(length_mm=length_mm, quantity=1, note=grip.note)]
    if washers:
        items.append(under.item(quantity=washers, note=grip.note))
    far = flipped(frame.lifted(-grip.grip_mm))
    if beyond is not None:
        others.append(Body(f"{name} washer", BodyKind.WASHER, beyond.blocks(), far))
        items.append(beyond.item(quantity=1, note=grip.note))
        far = far.lifted(beyond.height_mm)
    if closing is not None:
        others.append(Body(f"{name} nut", BodyKind.NUT, closing.blocks(), far))
        items.append(closing.item(quantity=1, note=grip.note))
    if grip.spacer_mm:
        size = f"{kind.thread}, {grip.spacer_mm:g} mm long"
        items.append(Item(f"spacer tube for {size}", 1, grip.note))
    return Chosen(
        Fastening(
            name=name,
            designation=kind.designation(length_mm),
            bodies=(screw_body, *others),
            holds=grip.holds,
            threaded_in=threaded_in,
            way=frame.n,
            tool=tool_room(kind, head),
        ),
        tuple(items),
        (),
    )


def _short_thread(
    grip: Grip, kind: ScrewKind, engaged_mm: float, full_mm: float, metal: Metal
) -> Finding:
    """Return what to say of a screw whose thread is too short to break before it strips."""
    slight = engaged_mm >= SLIGHTLY_SHORT * full_mm
    return Finding(
        severity=Severity.NOTE if slight else Severity.WARNING,
        part=grip.part,
        feature=f"screws of {grip.note}",
        measure=f"thread of {kind.thread} engaged in {metal}",
        value=round(engaged_mm, 4),
        limit=round(full_mm, 4),
        unit="mm",
        source="workshop handbooks' rule of thumb for a class 8.8 screw, from memory",
        remedy="enough for a light load; else use a thread or sheet for which a length is made, "
        "or deeper holes",
        check="made.thread",
    )


def _none_made(grip: Grip, kind: ScrewKind, least_mm: float, most_mm: float | None) -> Finding:
    end = "mm or longer" if most_mm is None else f"to {most_mm:.4g} mm"
    asked = f"{least_mm:.4g} {end}"
    near: Sequence[float] = sorted(kind.lengths_mm, key=lambda n: abs(n - least_mm))[:2]
    made = " and ".join(f"{n:g}" for n in sorted(near))
    too_deep = most_mm is not None and most_mm < least_mm
    why = f"nearest made: {made} mm"
    if too_deep:
        why = "its tapped hole is not deep enough"
    ways = "change the layers it grips (grip_layers), the sheet or the thread"
    if most_mm is not None:
        ways = f"measure its tapped hole and give that depth_mm (tapped_mm), or {ways}"
    return Finding(
        severity=Severity.STOP,
        part=grip.part,
        feature=f"screws of {grip.note}",
        measure=f"no {kind.standard} {kind.thread} screw is {asked}: grip",
        value=round(grip.grip_mm, 4),
        limit=None,
        unit="mm",
        source=f"{kind.standard}, lengths ISO 888; engagement by metal: see hardware",
        remedy=f"{why}; {ways}",
    )
