"""Parts: what a plate comes out as, exact and nominal, ready for the beam."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from typing import Literal

from platekit.errors import PartError
from platekit.findings import Finding
from platekit.geometry.chains import Contour, Path
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.hardware.items import Item
from platekit.materials.sheets import Sheet
from platekit.panel.measures import is_whole
from platekit.showing import Shows

MarkLayer = Literal["score", "note"]
LARGEST_QUANTITY = 10_000  # nobody cuts more of one part; a slipped digit does


class Grain(Enum):
    """How the face grain of the stock, which runs along the stock's x, must lie on the part."""

    ANY = "any"  # any quarter turn will do
    ALONG_X = "along x"
    ALONG_Y = "along y"  # a half turn is always allowed


@dataclass(frozen=True, slots=True)
class Mark:
    """A line that does not cut through.

    Attributes:
        path: Where it runs, in the coordinates of what carries it.
        layer: "score": the laser burns it into the face. "note": only for the reader of the file.
        is_name: Whether it is a stroke of the part's own name, put there by itself.
    """

    path: Path | Contour
    layer: MarkLayer = "score"
    is_name: bool = False

    def moved(self, motion: Motion) -> Mark:
        """Return the mark after `motion`."""
        return Mark(self.path.moved(motion), self.layer, self.is_name)


@dataclass(frozen=True, slots=True)
class Laying:
    """What a part asks of the sheets it is laid on.

    Attributes:
        may_flip: Whether copies may be cut face down, which can save sheet. Only for a part with
            nothing scored on it but its name: scored lines belong on the good face.
        together: Parts that say the same word here are cut from one sheet; empty for no wish.
        on: Name of the stock it must be cut from; empty for any.

    Raises:
        PartError: One of them is of another type.
    """

    may_flip: bool = False
    together: str = ""
    on: str = ""

    def __post_init__(self) -> None:
        if not isinstance(self.may_flip, bool):
            raise PartError(f"may_flip is {self.may_flip!r}", remedy="give True or False")
        for name, value in (("together", self.together), ("on", self.on)):
            if not isinstance(value, str):
                raise PartError(f"{name} is {value!r}", remedy="give a text")


USUAL_LAYING = Laying()


@dataclass(frozen=True, slots=True)
class Part(Shows):
    """One flat piece as it should lie on the bench.

    Attributes:
        name: What files and lists call it; safe as a file name.
        sheet: What it is cut from.
        profile: Exact nominal shape, every hole included; no kerf in it.
        marks: Lines scored or noted on the face.
        quantity: How many are needed.
        grain: How the stock's face grain must lie.
        laying: What it asks of the sheets it is laid on.
        items: Bought things it asks for.
        findings: What was noticed while it was drawn up.
    """

    name: str
    sheet: Sheet
    profile: Profile
    marks: tuple[Mark, ...] = field(default=(), kw_only=True)
    quantity: int = field(default=1, kw_only=True)
    grain: Grain = field(default=Grain.ANY, kw_only=True)
    laying: Laying = field(default=USUAL_LAYING, kw_only=True)
    items: tuple[Item, ...] = field(default=(), kw_only=True)
    findings: tuple[Finding, ...] = field(default=(), kw_only=True)

    def __post_init__(self) -> None:
        require_safe_name(self.name)
        require_quantity(self.quantity, part=self.name)


# Devices of an old operating system that still cannot be files there, whatever the ending.
RESERVED_NAMES = frozenset(
    {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10)}
)
LONGEST_NAME = 64


def require_safe_name(name: str) -> None:
    """Raise unless `name` will do as a file name on every system.

    Raises:
        PartError: It is empty, longer than 64 characters, holds anything but letters, digits,
            spaces, "-" and "_", begins or ends with a space, or is a reserved device name.
    """
    remedy = "use up to 64 letters, digits, spaces, - and _"
    if not _says_something(name):
        raise PartError(f"a part's name is {name!r}, which is empty", remedy=remedy)
    if len(name) > LONGEST_NAME:
        raise PartError(f"the part name {name[:20]!r}... has {len(name)} letters", remedy=remedy)
    wrong = sorted({c for c in name if not (c.isascii() and (c.isalnum() or c in " -_"))})
    if wrong:
        shown = " ".join(map(repr, wrong))
        raise PartError(f"the part name {name!r} holds {shown}", remedy=remedy)
    if name != name.strip():
        raise PartError(f"the part name {name!r} begins or ends with a space", remedy=remedy)
    if name.casefold() in RESERVED_NAMES:
        raise PartError(
            f"the part name {name!r} is a device on some systems", remedy="add a word to it"
        )


def _says_something(name: object) -> bool:
    return isinstance(name, str) and bool(name.strip())


def require_quantity(quantity: int, *, part: str) -> None:
    """Raise unless `quantity` is a whole number from 1 to 10000.

    Raises:
        PartError: It is not.
    """
    if not is_whole(quantity) or not 1 <= quantity <= LARGEST_QUANTITY:
        raise PartError(
            f"quantity is {quantity!r}",
            part=part,
            remedy=f"give a whole number from 1 to {LARGEST_QUANTITY}",
        )
