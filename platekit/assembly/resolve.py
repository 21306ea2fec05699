"""Resolving: from panels that overlap to parts that fit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from platekit.assembly.carving import carved
from platekit.assembly.choosing import chosen, require_workable
from platekit.assembly.claims import Claim, Meeting, common, less, meeting
from platekit.assembly.dealing import Deal
from platekit.assembly.fitting import openings
from platekit.assembly.frames import Frame
from platekit.assembly.joints import Butted, Halving, Joint, Passing, Practice, Screwed
from platekit.assembly.layers import taken_apart
from platekit.assembly.ledger import Cession, still_claimed
from platekit.assembly.made import Made, as_called, made_of
from platekit.assembly.mounting.bodies import Body, Fastening
from platekit.assembly.mounting.seats import Standing
from platekit.assembly.panels import Panel
from platekit.assembly.purposes import cut_for
from platekit.assembly.reports import dealt_findings, part_way_findings
from platekit.assembly.rules import dealt, run_along
from platekit.assembly.screwing import screws_of
from platekit.assembly.webs import web_findings
from platekit.errors import PartError, UnknownNameError
from platekit.findings import Finding
from platekit.geometry.strips import Interval
from platekit.hardware import Item
from platekit.hardware.hazards import Hazard
from platekit.panel.feature import Placed
from platekit.panel.part import Part


@dataclass(frozen=True)
class Resolved:
    """An assembly whose joints have been dealt.

    Attributes:
        parts: One part for each plate, in the assembly's order; each carries its own findings
            and items.
        findings: What the joints have to say.
        items: What the joints ask to be bought.
        placed: Every part with where it lies in space.
        panels: The panels with everything cut but the joints.
        bodies: Bought parts in space: devices, pulleys, belts, nuts in pockets.
        fastenings: Every screw with what belongs to it.
        hazards: How its bought parts can hurt once it is switched on.
        joints: The joint that every pair of panels got.
        standing: Every mounted device in its place.
        cuts: What the joints cut from each part, by its name, in its coordinates: named for what
            goes there, the joints' own screws among it.
    """

    parts: tuple[Part, ...]
    findings: tuple[Finding, ...]
    items: tuple[Item, ...]
    placed: tuple[tuple[Part, Frame], ...]
    panels: tuple[Panel, ...] = ()
    bodies: tuple[Body, ...] = ()
    fastenings: tuple[Fastening, ...] = ()
    hazards: tuple[Hazard, ...] = ()
    joints: tuple[Made, ...] = ()
    standing: tuple[Standing, ...] = ()
    cuts: Mapping[str, tuple[Placed, ...]] = field(default_factory=dict)


@dataclass
class _Table:
    """The state of dealing: what was given away so far, and what came with it."""

    given: dict[str, list[Cession]]
    findings: list[Finding] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    hardware: dict[str, list[Placed]] = field(default_factory=dict)
    fastenings: list[Fastening] = field(default_factory=list)
    nuts: list[Body] = field(default_factory=list)
    made: list[Made] = field(default_factory=list)


def resolve(panels: Sequence[Panel], joints: Sequence[Joint], practice: Practice) -> Resolved:
    """Return the parts of panels that have been placed as full slabs.

    Raises:
        PartError: Panels that share a name or a place, joints between panels that do not meet,
            joints that cannot work, features in a joint's way, a panel cut to pieces.
        UnknownNameError: A joint names a panel that is not there.
    """
    require_own_names(panels)
    whole = tuple(panels)
    panels, joints = taken_apart(panels, joints)
    meetings = [met for a, b in combinations(panels, 2) if (met := meeting(a, b)) is not None]
    asked = _asked(panels, joints, meetings)
    table = _Table({panel.name: [] for panel in panels})
    blocks = _blocks(meetings)
    picked = [(met, _joint(met, asked, practice)) for met in meetings]
    # Panels that cross come first: where they do is settled by how they slide together, and the
    # edges are dealt in what that leaves.
    for crossing in (True, False):
        for met, joint in picked:
            if isinstance(joint, (Halving, Passing)) == crossing:
                _deal(met, joint, practice, table, blocks[met.names])
    done = _finished(panels, table, practice)
    return replace(done, panels=whole, joints=as_called(table.made, whole))


def require_own_names(panels: Sequence[Panel]) -> None:
    """Raise when two panels or plates share a name.

    Raises:
        PartError: They do.
    """
    for kind, names in (
        ("panels", [panel.name for panel in panels]),
        ("plates", [plate.name for panel in panels for plate in panel.layers]),
    ):
        seen: set[str] = set()
        for name in names:
            if name.casefold() in seen:
                raise PartError(
                    f"two {kind} are called {name!r}",
                    part=name,
                    remedy="give each a name of its own",
                )
            seen.add(name.casefold())


def _asked(
    panels: Sequence[Panel], joints: Sequence[Joint], meetings: Sequence[Meeting]
) -> dict[frozenset[str], Joint]:
    known = {panel.name: panel for panel in panels}
    meet = {met.names for met in meetings}
    asked: dict[frozenset[str], Joint] = {}
    for joint in joints:
        for name in (joint.one, joint.other):
            if name not in known:
                raise UnknownNameError.among("panel", name, known)
        if joint.names in asked:
            raise PartError(
                "two joints are asked for",
                part=f"{joint.one} + {joint.other}",
                remedy="a pair has one joint; leave one out",
            )
        if joint.names not in meet:
            raise _never_meet(known[joint.one], known[joint.other], joint)
        asked[joint.names] = joint
    return asked


def _never_meet(one: Panel, other: Panel, joint: Joint) -> PartError:
    (low_a, high_a), (low_b, high_b) = one.reach, other.reach
    gaps = {
        axis: max(low_a[k], low_b[k]) - min(high_a[k], high_b[k]) for k, axis in enumerate("xyz")
    }
    axis = max(gaps, key=lambda a: gaps[a])
    if gaps[axis] > 0:
        how = f"they are {gaps[axis]:.4g} mm apart along {axis}"
    elif gaps[axis] > -1e-6:
        how = f"they only touch along {axis}"
    else:
        how = "their outlines leave each other out"
    return PartError(
        f"their slabs do not meet: {how}",
        part=f"{one.name} + {other.name}",
        feature=joint.kind,
        remedy="let them overlap by a full thickness, or leave the joint out",
    )


def _joint(met: Meeting, asked: Mapping[frozenset[str], Joint], practice: Practice) -> Joint | None:
    if met.names in asked:
        require_workable(asked[met.names], met, met.bars)
        return asked[met.names]
    if not practice.joined:
        start, end = common(met.one.held, met.other.held)[0]
        raise PartError(
            f"they meet around {met.where((start + end) / 2)}, and no joint is named",
            part=met.label,
            remedy="name one, or let one of them end short of the other",
        )
    if not met.bars:
        return None
    joint = chosen(met, met.bars)
    require_workable(joint, met, met.bars)
    return joint


def _blocks(meetings: Sequence[Meeting]) -> dict[frozenset[str], tuple[Interval, ...]]:
    """Return where a third panel claims each meeting's bar too."""
    by_names = {met.names: met for met in meetings}
    found: dict[frozenset[str], tuple[Interval, ...]] = {}
    for met in meetings:
        one, other = met.one.name, met.other.name
        thirds = {
            name
            for names in by_names
            if one in names
            for name in names - {one}
            if frozenset((name, other)) in by_names
        }
        found[met.names] = tuple(
            block
            for third in sorted(thirds)
            if (block := _block(met, by_names[frozenset((one, third))], third)) is not None
        )
    return found


def _block(met: Meeting, beside: Meeting, third: str) -> Interval | None:
    """Return where on the bar of `met` the panel `third` claims it too."""
    panel = beside.claim_of(third).panel
    facing = met.along.dot(panel.frame.n)
    if abs(abs(facing) - 1.0) > 1e-9:
        return None
    # Along the line of `beside`, the panel it does not hold covers this range.
    away = beside.along.dot(met.other.panel.frame.n)
    span = sorted(away * height for height in met.other.panel.heights)
    if not common(beside.claim_of(third).held, [(span[0], span[1])]):
        return None
    ends = sorted(facing * height for height in panel.heights)
    return ends[0], ends[1]


def _deal(
    met: Meeting,
    joint: Joint | None,
    practice: Practice,
    table: _Table,
    blocks: Sequence[Interval],
) -> None:
    one = still_claimed(met.one, table.given[met.one.name])
    other = still_claimed(met.other, table.given[met.other.name])
    used = joint if joint is not None else Butted(one=met.one.name, other=met.other.name)
    table.findings += part_way_findings(met, used)
    for loser, owner in _partial(one, other):
        for start, end in owner[1]:
            cession = _given(met, used, owner=owner[0], stretch=(start, end))
            table.given[loser].append(cession)
    if joint is None:
        return
    bars = common(one.full, other.full)
    deals: list[Deal] = []
    screws = driven = 0
    for start, end in bars:
        run = run_along(met, joint, practice, blocks=blocks, bar=(start, end))
        deal = dealt(run, joint, met)
        deals.append(deal)
        for stretch in deal.stretches:
            cession = _given(
                met, joint, owner=stretch.owner, stretch=(stretch.start_mm, stretch.end_mm)
            )
            table.given[cession.loser.name].append(cession)
        if isinstance(joint, Screwed) and deal.interlocks:
            fixed = screws_of(joint, met, deal.stretches, first=screws + 1)
            screws += len(fixed.slots)
            driven += len(fixed.fastenings)
            table.hardware.setdefault(joint.one, []).extend(fixed.slots)
            table.hardware.setdefault(joint.other, []).extend(fixed.holes)
            table.items += fixed.items
            table.findings += fixed.findings
            table.fastenings += fixed.fastenings
            table.nuts += fixed.nuts
    table.findings += dealt_findings(met, joint, bars, deals)
    table.made.append(made_of(met, joint, practice, deals, screws=driven))


def _partial(one: Claim, other: Claim) -> Iterator[tuple[str, tuple[str, tuple[Interval, ...]]]]:
    """Yield who gives way where a panel spans its band in part only: the one that does."""
    mine = common(one.partial, other.held)
    if mine:
        yield one.name, (other.name, mine)
    theirs = less(common(other.partial, one.held), mine)
    if theirs:
        yield other.name, (one.name, theirs)


def _given(met: Meeting, joint: Joint, *, owner: str, stretch: Interval) -> Cession:
    return Cession(met.mate_of(owner), owner, met, joint, stretch[0], stretch[1])


def _finished(panels: Sequence[Panel], table: _Table, practice: Practice) -> Resolved:
    cut = openings(table.given, practice)
    placed: list[tuple[Part, Frame]] = []
    cuts: dict[str, tuple[Placed, ...]] = {}
    for panel in panels:
        hardware = table.hardware.get(panel.name, [])
        for plate, frame in zip(panel.layers, panel.layer_frames(), strict=True):
            cuts[plate.name] = (*map(cut_for, cut[panel.name]), *hardware)
            finished = carved(plate, cut[panel.name], hardware=hardware)
            table.findings += web_findings(plate, cut[panel.name], hardware)
            placed.append((finished.part(), frame))
    parts = tuple(part for part, _ in placed)
    return Resolved(
        parts,
        tuple(table.findings),
        tuple(table.items),
        tuple(placed),
        bodies=tuple(table.nuts),
        fastenings=tuple(table.fastenings),
        cuts=cuts,
    )


__all__ = ["Resolved", "require_own_names", "resolve"]
