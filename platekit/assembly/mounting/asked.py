"""What a recipe asks for: devices on panels, bolts through them, belts between shafts.

Nothing here is placed yet; `platekit.assembly.mounting.install` does that, in the order given, so
that one may stand on the axis of another asked for before it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

from platekit.assembly.mounting.axes import OnAxis
from platekit.assembly.mounting.checks import (
    require_asked,
    require_device,
    require_drive,
    require_fit,
    require_flag,
    require_layers,
    require_name,
    require_names,
    require_where,
    said,
)
from platekit.errors import PartError, concerning
from platekit.hardware import BeltDrive, ClearanceFit, nut, screw_by
from platekit.hardware.devices.device import Device
from platekit.panel.measures import require_angle, require_count, require_length, require_shift
from platekit.panel.part import require_safe_name
from platekit.panel.places import MIDDLE, PlaceOrPoint

Side = Literal["up", "down", "left", "right", "front", "back"]
Where = PlaceOrPoint | OnAxis
USUAL_SCREW = "ISO 4762"
USUAL_NUT = "ISO 4032"


@dataclass(frozen=True, slots=True, kw_only=True)
class Travel:
    """How far something can be moved on its panel, in slots.

    Attributes:
        length_mm: How far in all; 0 for not at all.
        along_deg: Which way, counter-clockwise from the panel's +x on its drawn face.
    """

    length_mm: float = 0.0
    along_deg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Mounted:
    """A device fixed to a panel; see `mounted`."""

    name: str
    device: Device
    on: str
    side: Side
    at: Where = MIDDLE
    turn_deg: float = 0.0
    lift_mm: float = 0.0
    travel: Travel = Travel()
    grip_layers: int | None = None
    access: tuple[str, ...] = ()
    through: tuple[str, ...] = ()
    screw: str = USUAL_SCREW
    fit: str = ClearanceFit.MEDIUM.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Bolted:
    """Bolts through everything that lies against a face of a panel; see `bolted`."""

    name: str
    thread: str
    on: str
    side: Side
    at: Where = MIDDLE
    travel: Travel = Travel()
    grip_layers: int | None = None
    access: tuple[str, ...] = ()
    screw: str = USUAL_SCREW
    nut: str = USUAL_NUT
    nut_pocket: bool = False
    sunk_layers: int = 0
    fit: str = ClearanceFit.MEDIUM.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Belted:
    """A belt between the shafts of two mounted devices; see `belted`."""

    name: str
    drive: BeltDrive
    between: tuple[str, str]
    on: str
    side: Side
    gap_mm: float


Asked = Mounted | Bolted | Belted


def require_each_asked(asked: Iterable[Asked], *, whole: str) -> None:
    """Raise unless each is asked for by its own function and under a name of its own.

    Raises:
        PartError: It is not; `whole` names the assembly.
    """
    require_asked(asked, (Mounted, Bolted, Belted), whole)


def mounted(
    device: Device,
    *,
    on: str,
    side: Side,
    at: Where = MIDDLE,
    turn_deg: float = 0.0,
    lift_mm: float = 0.0,
    travel_mm: float = 0.0,
    travel_deg: float = 0.0,
    grip_layers: int | None = None,
    access: tuple[str, ...] = (),
    through: tuple[str, ...] = (),
    screw: str = USUAL_SCREW,
    fit: str = "medium",
    name: str = "",
) -> Mounted:
    """Return a device mounted on a panel.

    It cuts its own holes in every layer it passes through, that panel's and others further along
    its axis; where a layer is open already nothing is cut again. Its screws are chosen by what
    they grip.

    Args:
        device: The bought part.
        on: The panel it stands on.
        side: The face of that panel it stands on, by where the face looks: "down" is the
            underside of a lying panel.
        at: Where its axis goes on the panel: a place in the panel's own coordinates, or
            `on_axis`, `by_belt` of another device. Several places give several numbered devices.
            In a mirrored place it is turned as its image is, not mirrored.
        turn_deg: Turned by this much, counter-clockwise as seen by someone who looks at that face.
        lift_mm: How far its seat stands off the face, on spacers; below 0 it is let in.
        travel_mm: How far it can be moved in all: its holes become slots.
        travel_deg: Which way it can be moved, counter-clockwise from the panel's +x.
        grip_layers: How many layers its screws hold, from the seat on; deeper layers get a hole
            for the head. Left out: all that lie against each other.
        access: Panels that get a hole for the tool that turns the screws.
        through: Panels that get a hole for its body.
        screw: Standard of its screws.
        fit: "fine", "medium" or "coarse" screw holes, ISO 273.
        name: What messages, the bill and the steps call it; left out, the device's designation.

    Raises:
        PartError: A size, side, place or name that cannot be.
        UnknownNameError: No such screw or fit.
    """
    with concerning(part=said(on), feature=said(name, "a bought part")):
        label = name if name != "" else _plain(require_device(device).designation)
    with concerning(part=said(on), feature=said(label)):
        require_safe_name(label)
        return Mounted(
            name=label,
            device=require_device(device),
            on=require_name(on, "on"),
            side=require_looks(side),
            at=require_where(at),
            turn_deg=require_angle(turn_deg, "turn_deg"),
            lift_mm=require_shift(lift_mm, "lift_mm"),
            travel=_travel(travel_mm, travel_deg),
            grip_layers=require_layers(grip_layers),
            access=require_names(access, "access"),
            through=require_names(through, "through"),
            screw=_screw(screw, device),
            fit=require_fit(fit),
        )


def bolted(
    thread: str,
    *,
    on: str,
    side: Side,
    at: Where = MIDDLE,
    travel_mm: float = 0.0,
    travel_deg: float = 0.0,
    grip_layers: int | None = None,
    access: tuple[str, ...] = (),
    screw: str = USUAL_SCREW,
    nut: str = USUAL_NUT,
    nut_pocket: bool = False,
    sunk_layers: int = 0,
    fit: str = "medium",
    name: str = "",
) -> Bolted:
    """Return bolts through a panel and all that lies against it.

    Head and washer lie on the face named; the bolt passes every layer that lies against the one
    before; washer and nut close the stack. The length is chosen by what is gripped.

    Args:
        thread: "M5".
        on: The panel the heads lie on.
        side: The face of it they lie on, by where it looks: "up", "front"...
        at: Where, in that panel's coordinates; several places give several bolts.
        travel_mm: How far what is bolted can be moved: the hole in the panel named is a slot.
        travel_deg: Which way, counter-clockwise from the panel's +x.
        grip_layers: How many layers to pass; left out, all that lie against each other. Deeper
            layers get a hole for nut and wrench.
        access: Panels that get a hole for the tool.
        screw: Standard of the screw: "ISO 4762", "ISO 7380-1", "ISO 4017"...
        nut: Standard of the nut: "ISO 4032", "ISO 4035"...
        nut_pocket: Whether the nut lies in a six-sided pocket in the last layer, which holds it.
        sunk_layers: How many layers of that panel the heads are sunk into; those get a hole for
            head, washer and key.
        fit: "fine", "medium" or "coarse" holes, ISO 273.
        name: What messages call them; left out, "M5 bolt".

    Raises:
        PartError: A size, side or name that cannot be.
        UnknownNameError: No such thread or standard.
    """
    label = name if name != "" else f"{said(thread)} bolt".replace(".", "-")
    with concerning(part=said(on), feature=said(label)):
        _require_known(screw, nut, thread)
        require_safe_name(label)
        return Bolted(
            name=label,
            thread=thread,
            on=require_name(on, "on"),
            side=require_looks(side),
            at=require_where(at),
            travel=_travel(travel_mm, travel_deg),
            grip_layers=require_layers(grip_layers),
            access=require_names(access, "access"),
            screw=screw,
            nut=nut,
            sunk_layers=require_count(sunk_layers, "sunk_layers", least=0),
            nut_pocket=require_flag(nut_pocket, "nut_pocket"),
            fit=require_fit(fit),
        )


# Pulleys turn past a plate with this much air between (common practice, no source).
BELT_GAP_MM = 2.0


def belted(
    drive: BeltDrive,
    *,
    between: tuple[str, str],
    on: str,
    side: Side,
    gap_mm: float = BELT_GAP_MM,
    name: str = "belt",
) -> Belted:
    """Return a belt with its two pulleys, on the shafts of two mounted devices.

    Args:
        drive: The belt and the teeth of both pulleys, the first pulley's first.
        between: The devices, the first pulley's first.
        on: The panel the pulleys turn in front of.
        side: The face of it, by where it looks.
        gap_mm: Air between that face and the pulleys.
        name: What messages call it.

    Raises:
        PartError: A size, side or name that cannot be.
    """
    with concerning(part=said(on), feature=said(name, "belt")):
        require_safe_name(name)
        both = require_names(between, "between")
        if len(both) != 2 or both[0] == both[1]:
            raise PartError(f"it runs between {both}", remedy="name two devices with shafts")
        return Belted(
            name=name,
            drive=require_drive(drive),
            between=(both[0], both[1]),
            on=require_name(on, "on"),
            side=require_looks(side),
            gap_mm=require_length(gap_mm, "gap_mm", zero=True),
        )


def require_looks(side: str) -> Side:
    """Return `side` if a face can look there.

    Raises:
        PartError: It is none of up, down, left, right, front, back.
    """
    for known in get_args(Side):
        if side == known:
            looks: Side = known
            return looks
    raise PartError(
        f"side is {side!r}", remedy=f"give where the face looks: {', '.join(get_args(Side))}"
    )


def _require_known(screw: str, nut_standard: str, thread: str) -> None:
    screw_by(require_name(screw, "screw"), require_name(thread, "thread"))
    nut(require_name(nut_standard, "nut"), thread)


def _screw(standard: str, device: Device) -> str:
    """Return the standard of a device's screws if it is known in the device's thread."""
    require_name(standard, "screw")
    if device.fixing is not None:
        screw_by(standard, device.fixing.thread)
    return standard


def _travel(length_mm: float, along_deg: float) -> Travel:
    return Travel(
        length_mm=require_length(length_mm, "travel_mm", zero=True),
        along_deg=require_angle(along_deg, "travel_deg"),
    )


def _plain(designation: str) -> str:
    """Return a designation as a safe name: what else than letters and digits becomes a space."""
    kept = "".join(c if c.isascii() and (c.isalnum() or c == "-") else " " for c in designation)
    return " ".join(kept.split())[:64].strip()
