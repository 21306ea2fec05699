"""How tight a joint sits: clearances by material, joint and what holds it.

A fit is the size of the opening less the size of what goes in, both nominal: positive is play,
negative is interference. It has nothing to do with the kerf.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import cache

from platekit.errors import PartError, UnknownNameError
from platekit.handbook import plain, read


class Hold(Enum):
    """What keeps a joint together."""

    PRESS = "press"  # driven in dry, once
    GLUED = "glued"  # slides, with room for glue
    SLIP = "slip"  # slides, can be taken apart


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """How one kind of joint sits in one kind of material. All in mm.

    Attributes:
        joint: "finger", "tab", "halving", "tongue", "screwed" or "laminate dowel".
        press_mm: Clearance for a dry press fit, usually negative; None where it must not be.
        glued_mm: Clearance for glue.
        slip_mm: Clearance to slide and come apart.
        no_press_because: Why it must not be pressed; empty where it may.
        source: Where the figures come from.
    """

    joint: str
    press_mm: float | None
    glued_mm: float
    slip_mm: float
    no_press_because: str
    source: str

    def clearance_mm(self, hold: Hold | str = Hold.GLUED) -> float:
        """Return the clearance, mm, for what holds the joint.

        Raises:
            UnknownNameError: `hold` is none of press, glued, slip.
            PartError: A press fit is asked of a material that would crack.
        """
        match _hold(hold):
            case Hold.GLUED:
                return self.glued_mm
            case Hold.SLIP:
                return self.slip_mm
            case Hold.PRESS:
                if self.press_mm is None:
                    raise PartError(
                        f"no press fit for a {self.joint} joint: {self.no_press_because}",
                        remedy="take a glued or a slip fit",
                    )
                return self.press_mm


@dataclass(frozen=True, slots=True)
class Fits:
    """The fits of one kind of material, found by joint: ``fits["finger"]`` is mm, for glue.

    Attributes:
        rows: One fit for each joint.
    """

    rows: tuple[Fit, ...] = ()

    def of(self, joint: str) -> Fit:
        """Return the fit of a joint.

        Raises:
            UnknownNameError: No such joint; the message lists those there are.
        """
        for row in self.rows:
            if plain(row.joint) == plain(str(joint)):
                return row
        raise UnknownNameError.among("joint", joint, self)

    def __getitem__(self, joint: str) -> float:
        """Return the clearance of a glued joint, mm, as `of` finds it."""
        return self.of(joint).clearance_mm()

    def __iter__(self) -> Iterator[str]:
        """Yield the joints there are."""
        return (row.joint for row in self.rows)


def _hold(hold: Hold | str) -> Hold:
    if isinstance(hold, Hold):
        return hold
    names = [known.value for known in Hold]
    said = str(hold).strip().casefold()
    if said not in names:
        raise UnknownNameError.among("hold of a joint", hold, names)
    return Hold(said)


@cache
def fits_of(kind: str) -> Fits:
    """Return the fits for a kind of material ("plywood"); none when the table has no row for it."""
    return Fits(
        tuple(
            Fit(
                joint=row.text("joint"),
                press_mm=row.number("press_mm") if row.optional_text("press_mm") else None,
                glued_mm=row.number("glued_mm"),
                slip_mm=row.number("slip_mm"),
                no_press_because=row.optional_text("no_press_because"),
                source=row.source,
            )
            for row in read("platekit.materials", "fits.csv")
            if row.text("kind") == kind
        )
    )
