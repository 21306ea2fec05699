"""From what a recipe gave back to parts, bought things, and the names of features."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from platekit.assembly.assembly import Assembly
from platekit.assembly.proof import Proof
from platekit.assembly.resolve import Resolved
from platekit.findings import Finding
from platekit.hardware import Item, purchased
from platekit.hardware.hazards import Hazard
from platekit.job.beams import Named
from platekit.panel.part import Part
from platekit.panel.plate import Plate


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What a recipe gave, drawn up.

    Attributes:
        title: What the plate or the assembly is called.
        parts: Every part; the same one may stand here several times.
        items: Every bought thing, those of every copy of every part included.
        findings: What was noticed between the parts.
        named: Features by part name, in the part's coordinates.
        webs: Thinnest webs that plates ask for themselves, by part name.
        whole: The assembly and what its joints came to; None for a single plate.
    """

    title: str
    parts: tuple[Part, ...]
    items: tuple[Item, ...]
    findings: tuple[Finding, ...]
    named: Named
    webs: Mapping[str, float] = field(default_factory=dict)
    whole: tuple[Assembly, Resolved] | None = None

    @property
    def hazards(self) -> tuple[Hazard, ...]:
        """How its bought parts can hurt once it is switched on."""
        return () if self.whole is None else self.whole[1].hazards

    def prove(self) -> Proof:
        """Return whether it goes together; a single plate always does.

        Raises:
            UnknownNameError: Something that is to come out is not there.
        """
        if self.whole is None:
            return Proof((), ())
        assembly, done = self.whole
        return assembly.prove(done)


def resolved(made: Plate | Assembly) -> Given:
    """Return the parts of a plate or an assembly.

    Raises:
        PartError: Something in it cannot be made as asked.
    """
    if isinstance(made, Plate):
        parts: tuple[Part, ...] = (made.part(),)
        between: tuple[Item, ...] = ()
        findings: tuple[Finding, ...] = ()
        plates: tuple[Plate, ...] = (made,)
        whole = None
    else:
        done = made.resolve()
        parts, between, findings = done.parts, done.items, done.findings
        whole = (made, done)
        plates = tuple(plate for panel in done.panels for plate in panel.layers)
    bought = [item.times(part.quantity) for part in parts for item in part.items]
    return Given(
        title=made.name,
        parts=parts,
        items=purchased([*bought, *between]),
        findings=findings,
        named={plate.name: plate.features for plate in plates},
        webs={one.name: one.least_web_mm for one in plates if one.least_web_mm is not None},
        whole=whole,
    )
