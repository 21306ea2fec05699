"""Screwing: the holes, slots and nut pockets of joints that come apart.

A screw goes square through one panel and along a slot into the other's edge, where a nut lies in
a pocket across the slot. All openings go right through the sheet, as a laser cuts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from platekit.assembly.claims import Claim, Meeting
from platekit.assembly.dealing import Stretch
from platekit.assembly.frames import Frame
from platekit.assembly.joints import Screwed
from platekit.assembly.mounting.bodies import Body, BodyKind, Fastening, flipped, tool_room
from platekit.errors import concerning
from platekit.findings import Finding, Severity
from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.chords import ROUNDING_DIGITS
from platekit.hardware import Item, nut, screw_by, washer
from platekit.hardware.play import NUT_PLAY_MM
from platekit.panel.feature import Placed

# The screw's tip must not touch the bottom of its slot (common practice, no source).
TIP_ROOM_MM = 1.0
# The web between the joint's face and the nut carries the screw's pull: twice the thread's
# diameter (common practice, no source).
WEB_DIAMETERS = 2.0
# The slot begins this far outside the edge, so that no edge is cut along itself.
OVER_EDGE_MM = 0.5


@dataclass(frozen=True)
class Screws:
    """What the screws of one joint ask of both panels.

    Attributes:
        slots: Slots and pockets in the panel that holds the nuts.
        holes: Holes in the other.
        items: Screws, washers and nuts.
        findings: What is doubtful about them.
        fastenings: The screws with their washers, in space.
        nuts: The nuts in their pockets, in space.
    """

    slots: tuple[Placed, ...]
    holes: tuple[Placed, ...]
    items: tuple[Item, ...]
    findings: tuple[Finding, ...]
    fastenings: tuple[Fastening, ...] = ()
    nuts: tuple[Body, ...] = ()


def screws_of(joint: Screwed, met: Meeting, stretches: Sequence[Stretch], *, first: int) -> Screws:
    """Return the hardware of the screws between the tabs of one run.

    Args:
        joint: The joint.
        met: Where the two panels meet.
        stretches: The run as dealt: shoulder, tab, gap, tab, ..., shoulder.
        first: Number of the first screw, in the features' names.

    Raises:
        PartError: No preferred length is long enough.
    """
    holder, held_to = met.claim_of(joint.one), met.claim_of(joint.other)
    bought = joint.screw
    thickness = held_to.panel.thickness_mm
    web = joint.nut_at_mm if joint.nut_at_mm is not None else WEB_DIAMETERS * bought.nominal_mm
    with concerning(part=met.label, feature=joint.label):
        length = bought.nutted_length_mm(grip_mm=thickness + web, washers=1)
    gaps = [s for s in stretches[1:-1] if s.owner == joint.other]
    at = [(gap.start_mm + gap.end_mm) / 2 for gap in gaps]
    names = [f"{joint.thread} to {joint.other} {first + k}" for k in range(len(at))]
    depth = length - bought.washer_height_mm - thickness + TIP_ROOM_MM
    slots = tuple(
        Placed(
            name=name,
            kind=f"{joint.thread} slot with nut pocket",
            cuts=(_slot(joint, holder, s, web=web, depth=depth),),
            opens_edge=True,
        )
        for name, s in zip(names, at, strict=True)
    )
    low, high = holder.panel.heights
    holes = tuple(
        Placed(
            name=f"{joint.thread} to {joint.one} {first + k}",
            kind=f"{joint.thread} hole",
            cuts=(
                circle(held_to.band.point(s, (low + high) / 2), diameter_mm=bought.clearance_mm()),
            ),
            # How thin that is at the edge is said once, with the joint's own remedy.
            web_mm=_edge_web_mm(joint, met) if _near_edge(joint, met, s) else None,
        )
        for k, s in enumerate(at)
        if not _breaks_out(joint, met, s)
    )
    found = (*_edge_findings(joint, met, at), *_findings(joint, met, gaps))
    driven = [
        _driven(joint, met, s, name=f"{met.label} screw {first + k}", length=length)
        for k, s in enumerate(at)
        if not _breaks_out(joint, met, s)
    ]
    far = [frame.lifted(-thickness - web) for _, frame in driven]
    return Screws(
        slots,
        holes,
        _items(joint, length, len(at)),
        found,
        fastenings=tuple(fastening for fastening, _ in driven),
        nuts=tuple(_nut(joint, one, frame) for (one, _), frame in zip(driven, far, strict=True)),
    )


def _driven(
    joint: Screwed, met: Meeting, s_mm: float, *, name: str, length: float
) -> tuple[Fastening, Frame]:
    """Return one screw with its washer in space, and the frame its washer lies on."""
    holder, held_to = met.claim_of(joint.one), met.claim_of(joint.other)
    panel = held_to.panel
    low, high = holder.panel.heights
    x, y = held_to.band.point(s_mm, (low + high) / 2)
    outer = bool(holder.below)  # the holder's body lies on the low side: the head on the high one
    n = panel.frame.n if outer else panel.frame.n.scaled(-1.0)
    # Flats of the nut face along the joint, as its pocket does.
    u = holder.panel.frame.n
    frame = Frame(panel.frame.point(x, y, panel.thickness_mm if outer else 0.0), u, n.cross(u))
    kind = screw_by("ISO 4762", joint.thread)
    under = washer("ISO 7089", joint.thread)
    head = frame.lifted(under.height_mm)
    fastening = Fastening(
        name=name,
        designation=kind.designation(length),
        bodies=(
            Body(name, BodyKind.SCREW, kind.blocks(length), head),
            Body(f"{name} washer", BodyKind.WASHER, under.blocks(), frame),
        ),
        holds=(joint.one, joint.other),
        threaded_in="",
        way=n,
        tool=tool_room(kind, head),
    )
    return fastening, frame


def _nut(joint: Screwed, fastening: Fastening, face: Frame) -> Body:
    return Body(
        f"{fastening.name} nut",
        BodyKind.NUT,
        nut("ISO 4032", joint.thread).blocks(),
        flipped(face),
    )


def _breaks_out(joint: Screwed, met: Meeting, s_mm: float) -> bool:
    """Return whether a hole in the middle of the holder's thickness runs over the other's edge."""
    edge = met.claim_of(joint.one).panel.thickness_mm / 2
    return _at_edge(met, joint, s_mm) and joint.screw.clearance_mm() / 2 >= edge


def _at_edge(met: Meeting, joint: Screwed, s_mm: float) -> bool:
    """Return whether the other panel ends there, flush with the holder's outer face."""
    held_to = met.claim_of(joint.other)
    return not all(any(a < s_mm < b for a, b in side) for side in (held_to.below, held_to.above))


def _edge_web_mm(joint: Screwed, met: Meeting) -> float:
    """Return what a hole in the middle of the holder's thickness leaves to a flush edge."""
    return (met.claim_of(joint.one).panel.thickness_mm - joint.screw.clearance_mm()) / 2


def _near_edge(joint: Screwed, met: Meeting, s_mm: float) -> bool:
    """Return whether a hole stays on the other panel, yet nearer its edge than a web should be."""
    least = met.claim_of(joint.other).panel.plate.sheet.least_web_mm
    return _at_edge(met, joint, s_mm) and 0.0 < _edge_web_mm(joint, met) < least


def _edge_findings(joint: Screwed, met: Meeting, at_mm: Sequence[float]) -> tuple[Finding, ...]:
    """Return a stop for the holes that run over an edge; they are left out of the part.

    Those that only come near it are a warning.
    """
    broken = [s for s in at_mm if _breaks_out(joint, met, s)]
    thin = [s for s in at_mm if _near_edge(joint, met, s)]
    if not broken:
        return (_thin_edge(joint, met, thin[0]),) if thin else ()
    holder, held_to = met.claim_of(joint.one).panel, met.claim_of(joint.other).panel
    hole, least = joint.screw.clearance_mm(), held_to.plate.sheet.least_web_mm
    out = least + (hole - holder.thickness_mm) / 2
    return (
        Finding(
            severity=Severity.STOP,
            part=met.label,
            feature=f"{joint.label} around {met.where(broken[0])}",
            measure=f"{joint.thread} hole runs over the edge of {joint.other}: it lies in the "
            f"middle of {joint.one}, from that edge",
            value=holder.thickness_mm / 2,
            limit=hole / 2 + least,
            unit="mm",
            source="ISO 273 medium; web: common practice, no source",
            remedy=f"let {joint.other} stand out {out:.3g} mm beyond {joint.one}, or use a thinner "
            "thread or a thicker sheet",
            check="made.web",
        ),
    )


def _thin_edge(joint: Screwed, met: Meeting, s_mm: float) -> Finding:
    web, least = _edge_web_mm(joint, met), met.claim_of(joint.other).panel.plate.sheet.least_web_mm
    return Finding(
        severity=Severity.WARNING,
        part=met.label,
        feature=f"{joint.label} around {met.where(s_mm)}",
        measure=f"web between its {joint.thread} holes and the edge of {joint.other}",
        value=round(web, 4),
        limit=least,
        unit="mm",
        source="common practice, no source",
        remedy=f"let {joint.other} stand out {least - web:.3g} mm beyond {joint.one}, or use a "
        "thinner thread",
        check="made.web",
    )


def _slot(joint: Screwed, holder: Claim, s_mm: float, *, web: float, depth: float) -> Contour:
    """Return the slot and its pocket: a cross seen from the edge."""
    bought = joint.screw
    shank = bought.clearance_mm() / 2
    nut = (bought.nut_across_flats_mm + NUT_PLAY_MM) / 2
    near, far = web, web + bought.nut_height_mm + NUT_PLAY_MM
    outline = [
        (-shank, -OVER_EDGE_MM),
        (shank, -OVER_EDGE_MM),
        (shank, near),
        (nut, near),
        (nut, far),
        (shank, far),
        (shank, max(depth, far + TIP_ROOM_MM)),
        (-shank, max(depth, far + TIP_ROOM_MM)),
        (-shank, far),
        (-nut, far),
        (-nut, near),
        (-shank, near),
    ]
    band = holder.band
    if holder.below:  # the panel's body lies on the band's low side
        points = [band.point(s_mm + along, band.low_mm - deep) for along, deep in outline]
    else:
        points = [band.point(s_mm + along, band.high_mm + deep) for along, deep in outline]
    return closed_polyline(
        (round(x, ROUNDING_DIGITS), round(y, ROUNDING_DIGITS)) for x, y in points
    )


def _items(joint: Screwed, length_mm: float, count: int) -> tuple[Item, ...]:
    if not count:
        return ()
    bought, note = joint.screw, f"{joint.one} to {joint.other}"
    return (
        bought.item(length_mm=length_mm, quantity=count, note=note),
        bought.washer_item(quantity=count, note=note),
        bought.nut_item(quantity=count, note=note),
    )


def _findings(joint: Screwed, met: Meeting, gaps: Sequence[Stretch]) -> tuple[Finding, ...]:
    found = []
    holder, bought = met.claim_of(joint.one).panel, joint.screw
    if holder.thickness_mm < bought.nominal_mm:
        found.append(
            Finding(
                severity=Severity.WARNING,
                part=met.label,
                feature=joint.label,
                measure=f"thickness of {joint.one} beside an {joint.thread} screw",
                value=holder.thickness_mm,
                limit=bought.nominal_mm,
                unit="mm",
                source="common practice, no source",
                remedy="use a thinner thread or a thicker sheet: the slot no longer guides it",
                check="made.nut_pocket",
            )
        )
    least = met.claim_of(joint.other).panel.plate.sheet.least_web_mm
    for gap in gaps:
        web = (gap.width_mm - bought.clearance_mm()) / 2
        if web < least:
            found.append(
                Finding(
                    severity=Severity.WARNING,
                    part=met.label,
                    feature=joint.label,
                    measure=f"web between screw hole and tab slot at {met.where(gap.start_mm)}",
                    value=web,
                    limit=least,
                    unit="mm",
                    source="common practice, no source",
                    remedy="use fewer screws, narrower tabs or a thinner thread",
                    check="made.web",
                )
            )
    return tuple(found)
