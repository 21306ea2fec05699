"""Grips as recipes ask for them: sizes read, names looked up, what does not go together refused."""

from __future__ import annotations

from platekit.errors import PartError
from platekit.hardware.devices.ratings import Grip, Hold
from platekit.hardware.fasteners.screws import screw
from platekit.hardware.keys import key_for
from platekit.hardware.lengths import require_part_mm
from platekit.hardware.metals import Metal
from platekit.hardware.solids import solid

__all__ = ["Hold", "grip_of", "made_of_metal", "metal_of"]

HOLDS: tuple[Hold, ...] = ("key", "clamp", "set screws", "press", "flat", "slip")
# More screws than this in one grip: a slip of the pen.
MOST_SCREWS = 24
# What a part is taken to be made of where only the metal of its threads is said; common practice,
# no source.
_USUAL: dict[Metal, str] = {
    "steel": "steel C45",
    "aluminium": "aluminium 6082-T6",
    "brass": "brass CW614N",
    "plastic": "acetal",
}


def made_of_metal(made_of: str | None, metal: Metal) -> str:
    """Return the name of a material of the table: as asked, else the usual one of a metal.

    Raises:
        UnknownNameError: The table has none such.
    """
    if made_of is not None:
        return solid(made_of).name
    return solid(_USUAL[metal]).name if metal in _USUAL else ""


def metal_of(made_of: str | None, metal: Metal | None) -> Metal:
    """Return what threads are cut in: as asked, else what the part is made of, else aluminium.

    Inserts are asked for by `metal`: brass in a printed part.

    Raises:
        UnknownNameError: The table of materials has none such.
    """
    if metal is not None:
        return metal
    if made_of is None:
        return "aluminium"
    given = solid(made_of)
    if given.kind != "metal":
        return "plastic"
    return next((known for known in _USUAL if known in given.name), "steel")


def grip_of(
    *,
    bore_mm: float,
    low_mm: float,
    high_mm: float,
    outer_mm: float,
    hold: Hold,
    thread: str = "",
    screws: int = 0,
    key_mm: float | None = None,
    across_flat_mm: float | None = None,
    interference_mm: float | None = None,
) -> Grip:
    """Return a grip whose sizes can be; None and 0 stand for what is not said.

    Raises:
        UnknownNameError: There is no such thread.
        PartError: A number that cannot be, or one that belongs to another way of holding.
    """
    if hold not in HOLDS:
        raise PartError(f"hold is {hold!r}", remedy=f"give {', '.join(HOLDS)}")
    _belongs("screws that hold", thread or screws, hold, ("clamp", "set screws", "flat"))
    _belongs("a key's length", key_mm, hold, ("key",))
    _belongs("across_flat_mm", across_flat_mm, hold, ("flat",))
    _belongs("interference_mm", interference_mm, hold, ("press",))
    if bool(thread) != bool(screws):
        raise PartError("its screws are half said", remedy="give both their thread and how many")
    if thread:
        screw(thread)
    if screws not in range(MOST_SCREWS + 1):
        raise PartError(
            f"{screws!r} screws hold it", remedy=f"give a whole number up to {MOST_SCREWS}"
        )
    key = 0.0
    if key_mm is not None:
        key_for(bore_mm).item(length_mm=key_mm)
        key = float(key_mm)
    flat = 0.0
    if across_flat_mm is not None:
        flat = require_part_mm(across_flat_mm, "across_flat_mm")
        if not bore_mm / 2 < flat < bore_mm:
            raise PartError(
                f"across_flat_mm is {flat:g} mm in a bore of {bore_mm:g} mm",
                remedy="measure from the flat to the far side of the bore",
            )
    tight = 0.0
    if interference_mm is not None:
        tight = require_part_mm(interference_mm, "interference_mm")
        if tight > bore_mm / 50:
            raise PartError(
                f"interference_mm is {tight:g} mm on {bore_mm:g} mm: no press brings that together",
                remedy="give it in mm: 0.02 rather than 20",
            )
    return Grip(
        bore_mm=bore_mm,
        low_mm=low_mm,
        high_mm=high_mm,
        outer_mm=outer_mm,
        hold=hold,
        thread=thread,
        screws=int(screws),
        key_mm=key,
        across_flat_mm=flat,
        interference_mm=tight,
    )


def _belongs(what: str, given: object, hold: Hold, to: tuple[Hold, ...]) -> None:
    if given and hold not in to:
        raise PartError(
            f"{what} given to a hold by {hold}", remedy=f"leave it out, or give hold {to[0]!r}"
        )
