"""Checks on what a recipe asks for, where it enters: every fault names the panel and the part."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from platekit.assembly.mounting.axes import OnAxis
from platekit.errors import PartError, UnknownNameError
from platekit.geometry.points import as_point
from platekit.hardware import BeltDrive, ClearanceFit
from platekit.hardware.devices.device import Device
from platekit.panel.measures import require_count
from platekit.panel.places import PlaceOrPoint

Kept = TypeVar("Kept", bound=object)


def said(value: object, usual: str = "") -> str:
    """Return what a message calls something whose name may be anything: itself if it is a name."""
    if isinstance(value, str) and value.strip():
        return value[:64]
    return usual or repr(value)[:64]


def require_device(device: Device) -> Device:
    """Return `device` if it is one.

    Raises:
        PartError: It is not.
    """
    given: object = device
    if not isinstance(given, Device):
        raise PartError(
            f"device is {repr(device)[:64]}",
            remedy='give a bought part: motor("NEMA 34", ...), ball_bearing("608")',
        )
    return device


def require_drive(drive: BeltDrive) -> BeltDrive:
    """Return `drive` if it is a belt drive.

    Raises:
        PartError: It is not.
    """
    given: object = drive
    if not isinstance(given, BeltDrive):
        raise PartError(f"drive is {repr(drive)[:64]}", remedy="give what belt_drive() returns")
    return drive


def require_name(name: str, what: str) -> str:
    """Return `name` if it says something.

    Raises:
        PartError: It is no text, or empty.
    """
    given: object = name
    if not isinstance(given, str) or not given.strip():
        raise PartError(f"{what} is {repr(name)[:64]}", remedy="give a name in quotes")
    return name


def require_names(names: tuple[str, ...], what: str) -> tuple[str, ...]:
    """Return several names.

    Raises:
        PartError: They are no names in brackets.
    """
    given: object = names
    if not isinstance(given, tuple | list) or not all(isinstance(name, str) for name in given):
        raise PartError(f"{what} is {names!r}", remedy=f'give names in brackets: {what}=("lid",)')
    return tuple(names)


def require_where(at: PlaceOrPoint | OnAxis) -> PlaceOrPoint | OnAxis:
    """Return a place as given, a point as plain numbers.

    Raises:
        PartError: It is neither.
        GeometryError: A point that is not two finite numbers.
    """
    given: object = at
    if isinstance(given, tuple):
        x, y = as_point(given)
        return (x, y)
    if not (isinstance(given, OnAxis) or callable(getattr(given, "spots", None))):
        raise PartError(
            f"at is {repr(at)[:64]}", remedy="give (x, y), or a place: centre(), on_axis(...)"
        )
    return at


def require_layers(count: int | None) -> int | None:
    """Return a number of layers, or None for all.

    Raises:
        PartError: It is no whole number from 1.
    """
    return None if count is None else require_count(count, "grip_layers")


def require_fit(fit: str) -> str:
    """Return `fit` if screw holes are made to it.

    Raises:
        UnknownNameError: They are not.
    """
    known = [one.value for one in ClearanceFit]
    if fit not in known:
        raise UnknownNameError.among("fit of a screw's hole", fit, known)
    return fit


def require_flag(flag: bool, what: str) -> bool:  # noqa: FBT001  it is the value looked at
    """Return `flag` if it is True or False.

    Raises:
        PartError: It is something else.
    """
    given: object = flag
    if not isinstance(given, bool):
        raise PartError(f"{what} is {repr(flag)[:64]}", remedy="give True or False")
    return flag


def require_asked(asked: Iterable[Kept], kinds: tuple[type, ...], whole: str) -> None:
    """Raise unless everything is asked for by its own function and under a name of its own.

    Raises:
        PartError: It is not.
    """
    seen: set[str] = set()
    for one in asked:
        if not isinstance(one, kinds):
            raise PartError(
                f"a bought part is {repr(one)[:64]}",
                part=whole,
                feature="hardware",
                remedy="say where it goes: mounted(device, on=..., side=...), bolted(...), "
                "belted(...)",
            )
        name = str(getattr(one, "name", ""))
        if name.casefold() in seen:
            raise PartError(
                f"two bought parts are called {name!r}",
                part=whole,
                feature=name,
                remedy="give each a name of its own with name=",
            )
        seen.add(name.casefold())
