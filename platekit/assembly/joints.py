"""Joints: what the recipe says about how two panels share the volume both claim."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TypeVar

from platekit.errors import PartError, UnknownNameError, concerning
from platekit.hardware import Screw, screw
from platekit.materials import Hold
from platekit.panel.measures import require_count, require_length, require_shift


@dataclass(frozen=True, kw_only=True)
class Joint:
    """How one pair of panels is joined. The functions below make one more briefly.

    Fit: the opening is wider than what goes into it by the clearance, both nominal. Where the
    thickness of a sheet is gripped on both sides, the opening takes all of it, half on each side,
    since a sheet's own faces stay as they are. Along the joint it is half at either end; there
    both mating faces are cut and each gives way by half of that, unless one of them is a panel's
    own edge: then the other gives way alone. An opening that is open on the far side grips
    nothing and gets no clearance across. It never mixes with the kerf.

    Attributes:
        one: Name of the first panel.
        other: Name of the second.
        hold: What keeps it together; picks the clearance from the material's table. Left out, as
            the assembly's practice has it.
        clearance_mm: Opening less what goes in, mm; negative for interference. Left out, as the
            material and `hold` have it.
    """

    one: str
    other: str
    hold: Hold | None = None
    clearance_mm: float | None = None

    @property
    def kind(self) -> str:
        """What it is called."""
        return type(self).__name__.lower()

    @property
    def fit(self) -> str:
        """Under which name the material's table of fits has it."""
        return "finger"

    @property
    def label(self) -> str:
        """The joint in words, for findings."""
        return f"{self.kind} {self.one} / {self.other}"

    @property
    def names(self) -> frozenset[str]:
        """Names of both panels."""
        return frozenset((self.one, self.other))


@dataclass(frozen=True, kw_only=True)
class Fingers(Joint):
    """Dealt alternately: a finger joint at an edge.

    Attributes:
        count: How many fingers of both panels together; odd gives one panel both ends.
        width_mm: Width to aim at; left out, three times the thicker sheet (common practice).
        first: The panel that has the first finger, and with an odd count the last.
    """

    count: int | None = None
    width_mm: float | None = None
    first: str | None = None

    @property
    def kind(self) -> str:
        """What it is called."""
        return "fingers"


@dataclass(frozen=True, kw_only=True)
class Tabs(Joint):
    """Tabs of panel `one` in slots of panel `other`.

    Attributes:
        count: How many tabs; left out, about one in every ten thicknesses.
        width_mm: Width of a tab; left out, three times the thicker sheet (common practice).
    """

    count: int | None = None
    width_mm: float | None = None

    @property
    def fit(self) -> str:
        """Under which name the material's table of fits has it."""
        return "tab"


@dataclass(frozen=True, kw_only=True)
class Tongue(Joint):
    """One long tab of panel `one` in panel `other`, a shoulder at both ends.

    Attributes:
        shoulder_mm: Width of each shoulder; left out, twice the thicker sheet.
    """

    shoulder_mm: float | None = None

    @property
    def fit(self) -> str:
        """Under which name the material's table of fits has it."""
        return "tongue"


@dataclass(frozen=True, kw_only=True)
class Halving(Joint):
    """Two panels crossing, each cut half way along the line.

    Attributes:
        slotted_first: The panel whose slot lies at the start of the line (left, front or
            bottom); left out, whichever can be slid together, else the panel named first.
    """

    slotted_first: str | None = None

    @property
    def fit(self) -> str:
        """Under which name the material's table of fits has it."""
        return "halving"


@dataclass(frozen=True, kw_only=True)
class Passing(Joint):
    """Panel `one` passes through panel `other` whole."""

    @property
    def fit(self) -> str:
        """Under which name the material's table of fits has it."""
        return "tab"


@dataclass(frozen=True, kw_only=True)
class Butted(Joint):
    """Panel `one` ends at the face of panel `other`: glue or screws of your own hold it."""


@dataclass(frozen=True, kw_only=True)
class Screwed(Joint):
    """Tabs of panel `one` in panel `other`, with screws between into nuts held in `one`.

    Attributes:
        thread: Thread of the screws: "M4".
        screws: How many; there is one tab more than screws. Left out, about one in every
            fifteen thicknesses.
        width_mm: Width of a tab; left out, three times the thicker sheet.
        nut_at_mm: From the face of `other` to the near side of the nut; left out, so that a
            preferred screw length fits.
    """

    thread: str
    screws: int | None = None
    width_mm: float | None = None
    nut_at_mm: float | None = None

    @property
    def fit(self) -> str:
        """Under which name the material's table of fits has it."""
        return "screwed"

    @property
    def screw(self) -> Screw:
        """The standard part."""
        return screw(self.thread)


@dataclass(frozen=True, kw_only=True)
class Practice:
    """How joints are made where the recipe does not say.

    Attributes:
        hold: What keeps joints together.
        clearance_mm: One clearance for all; left out, by material and joint.
        finger_width_mm: Finger and tab width to aim at; left out, three times the thicker sheet.
        joined: Whether panels that meet are joined unless told otherwise. If not, every pair that
            meets needs a joint of its own.
    """

    hold: Hold = Hold.GLUED
    clearance_mm: float | None = None
    finger_width_mm: float | None = None
    joined: bool = field(default=True)


def fingers(
    one: str,
    other: str,
    *,
    count: int | None = None,
    width_mm: float | None = None,
    first: str | None = None,
    hold: Hold | str | None = None,
    clearance_mm: float | None = None,
) -> Fingers:
    """Return a finger joint between two panels at an edge; see `Fingers` and `Joint`.

    Raises:
        PartError: A size or count that cannot be, or `first` is neither panel.
    """
    if count is not None:
        require_count(count, "number of fingers", least=2)
    if first is not None and first not in (one, other):
        raise PartError(
            f"the first finger is given to {first!r}",
            part=f"{one} + {other}",
            remedy=f"give it to {one!r} or {other!r}",
        )
    joint = Fingers(one=one, other=other, count=count, width_mm=width_mm, first=first)
    return _checked(joint, hold, clearance_mm)


def tabs(
    panel: str,
    *,
    into: str,
    count: int | None = None,
    width_mm: float | None = None,
    hold: Hold | str | None = None,
    clearance_mm: float | None = None,
) -> Tabs:
    """Return a joint of `panel`'s tabs in slots of `into`; see `Tabs` and `Joint`.

    Raises:
        PartError: A size or count that cannot be.
    """
    if count is not None:
        require_count(count, "number of tabs")
    joint = Tabs(one=panel, other=into, count=count, width_mm=width_mm)
    return _checked(joint, hold, clearance_mm)


def tongue(
    panel: str,
    *,
    into: str,
    shoulder_mm: float | None = None,
    hold: Hold | str | None = None,
    clearance_mm: float | None = None,
) -> Tongue:
    """Return a joint of one shouldered tongue of `panel` in `into`; see `Tongue` and `Joint`.

    Raises:
        PartError: A size that cannot be.
    """
    if shoulder_mm is not None:
        require_length(shoulder_mm, "shoulder")
    return _checked(Tongue(one=panel, other=into, shoulder_mm=shoulder_mm), hold, clearance_mm)


def halving(
    one: str,
    other: str,
    *,
    slotted_first: str | None = None,
    hold: Hold | str | None = None,
    clearance_mm: float | None = None,
) -> Halving:
    """Return a halving joint of two panels that cross; see `Halving` and `Joint`.

    Raises:
        PartError: `slotted_first` is neither panel.
    """
    if slotted_first is not None and slotted_first not in (one, other):
        raise PartError(
            f"the first slot is given to {slotted_first!r}",
            part=f"{one} + {other}",
            remedy=f"give it to {one!r} or {other!r}",
        )
    return _checked(Halving(one=one, other=other, slotted_first=slotted_first), hold, clearance_mm)


def passing(
    panel: str, *, through: str, hold: Hold | str | None = None, clearance_mm: float | None = None
) -> Passing:
    """Return the joint of a panel that passes whole through a slot in another."""
    return _checked(Passing(one=panel, other=through), hold, clearance_mm)


def butted(panel: str, *, against: str) -> Butted:
    """Return the joint of a panel that ends at another's face, whatever it was drawn to reach."""
    return Butted(one=panel, other=against)


def screwed(
    panel: str,
    *,
    to: str,
    thread: str = "M4",
    screws: int | None = None,
    width_mm: float | None = None,
    nut_at_mm: float | None = None,
    hold: Hold | str | None = Hold.SLIP,
    clearance_mm: float | None = None,
) -> Screwed:
    """Return a joint that comes apart: tabs, screws and nuts in pockets; see `Screwed`, `Joint`.

    Raises:
        PartError: A size or count that cannot be.
        UnknownNameError: No such thread.
    """
    screw(thread)
    if screws is not None:
        require_count(screws, "number of screws")
    if nut_at_mm is not None:
        require_length(nut_at_mm, "distance of the nut")
    joint = Screwed(
        one=panel, other=to, thread=thread, screws=screws, width_mm=width_mm, nut_at_mm=nut_at_mm
    )
    return _checked(joint, hold, clearance_mm)


# Play or interference beyond this is a slipped digit, not a fit.
LARGEST_CLEARANCE_MM = 2.0


J = TypeVar("J", bound=Joint)


def as_hold(hold: Hold | str | None) -> Hold | None:
    """Return what holds a joint, given as one, by name, or not at all.

    Raises:
        UnknownNameError: It is none of press, glued, slip.
    """
    if hold is None or isinstance(hold, Hold):
        return hold
    names = [known.value for known in Hold]
    if hold not in names:
        raise UnknownNameError.among("hold of a joint", hold, names)
    return Hold(hold)


def require_clearance(clearance_mm: float) -> float:
    """Return `clearance_mm` if it is a number within 2 mm of 0.

    Raises:
        PartError: It is not.
    """
    number = require_shift(clearance_mm, "clearance")
    if abs(number) > LARGEST_CLEARANCE_MM:
        raise PartError(
            f"clearance is {number:g} mm",
            remedy=f"give at most {LARGEST_CLEARANCE_MM:g} mm of play or interference",
        )
    return number


def _checked(joint: J, hold: Hold | str | None, clearance_mm: float | None) -> J:
    with concerning(part=f"{joint.one} + {joint.other}"):
        if joint.one == joint.other:
            raise PartError("a panel cannot be joined to itself", remedy="name two panels")
        if clearance_mm is not None:
            clearance_mm = require_clearance(clearance_mm)
        width_mm = getattr(joint, "width_mm", None)
        if width_mm is not None:
            require_length(width_mm, "width of a finger or tab")
        return replace(joint, hold=as_hold(hold), clearance_mm=clearance_mm)
