"""What became of the joints: for every pair of panels the one that was dealt, with its figures."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from platekit.assembly.claims import Meeting, total
from platekit.assembly.dealing import Deal
from platekit.assembly.fitting import clearance_mm
from platekit.assembly.joints import (
    Butted,
    Fingers,
    Joint,
    Passing,
    Practice,
    Screwed,
    Tabs,
    Tongue,
)
from platekit.assembly.panels import Panel
from platekit.materials import Hold


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """The joint that a pair of panels got.

    Attributes:
        between: Names of both panels, as the recipe calls them; where one has the tabs, passes
            through or ends at the other, it stands first.
        kind: What was made: "fingers", "tabs", "tongue", "halving", "screwed", "passing"; "butted"
            too where there was no room for a finger or a tab.
        hold: What keeps it together; None where the two only butt, which is left to the maker.
        clearance_mm: Opening less what goes in, mm; None where the two only butt.
        tabs: Fingers of both panels together, or tabs, or tongues; 0 for other joints.
        screws: How many screws draw it together.
        length_mm: Length of the line on which both panels meet, mm, corners included that a third
            panel has.
    """

    between: tuple[str, str]
    kind: str
    hold: Hold | None
    clearance_mm: float | None
    tabs: int = 0
    screws: int = 0
    length_mm: float


def made_of(
    met: Meeting, joint: Joint, practice: Practice, deals: Sequence[Deal], *, screws: int
) -> Made:
    """Return what a joint came to.

    Args:
        met: Where the two panels meet.
        joint: The joint asked for or chosen.
        practice: Where the joint does not say hold or clearance.
        deals: Its bars as dealt.
        screws: How many screws it got.

    Raises:
        PartError: A press fit is asked of a material that would crack.
    """
    between, length = (joint.one, joint.other), total(met.bars)
    interlocks = any(deal.interlocks for deal in deals)
    if isinstance(joint, Butted) or not (interlocks or isinstance(joint, Passing)):
        return Made(
            between=between,
            kind=Butted(one=joint.one, other=joint.other).kind,
            hold=None,
            clearance_mm=None,
            length_mm=length,
        )
    return Made(
        between=between,
        kind=joint.kind,
        hold=practice.hold if joint.hold is None else joint.hold,
        clearance_mm=clearance_mm(joint, practice, (met.one, met.other)),
        tabs=sum(_tabs(joint, deal) for deal in deals if deal.interlocks),
        screws=screws,
        length_mm=length,
    )


def _tabs(joint: Joint, deal: Deal) -> int:
    match joint:
        case Fingers():
            return len(deal.stretches)
        case Tabs() | Tongue() | Screwed():
            return sum(stretch.owner == joint.one for stretch in deal.stretches)
        case _:
            return 0


def as_called(made: Iterable[Made], panels: Iterable[Panel]) -> tuple[Made, ...]:
    """Return joints between the panels of a recipe, in its order of panels.

    A laminate whose layers reach differently was dealt layer by layer: what its layers got from
    one panel is added up where it is alike, else it stays apart.

    Args:
        made: Joints as they were dealt, between panels or single layers.
        panels: The panels as the recipe has them.
    """
    known = list(panels)
    places = {panel.name: place for place, panel in enumerate(known)}
    laminates = {plate.name: panel.name for panel in known for plate in panel.layers}
    joined: dict[Made, Made] = {}
    for one in made:
        a, b = (name if name in places else laminates[name] for name in one.between)
        alike = replace(one, between=(a, b), tabs=0, screws=0, length_mm=0.0)
        before = joined.get(alike, alike)
        joined[alike] = replace(
            alike,
            tabs=before.tabs + one.tabs,
            screws=before.screws + one.screws,
            length_mm=before.length_mm + one.length_mm,
        )
    return tuple(
        sorted(joined.values(), key=lambda one: sorted(places[name] for name in one.between))
    )
