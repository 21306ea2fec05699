"""Loads: what acts on a rig in use, where it is held, and with which factors that is weighed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from platekit.assembly.driving import Drive
from platekit.assembly.mounting.checks import require_name
from platekit.errors import PartError, UnknownNameError, concerning
from platekit.materials import Strength
from platekit.panel.measures import require_shift
from platekit.panel.part import require_safe_name

NMM_PER_NM = 1000.0
# Standard acceleration of gravity, ISO 80000-3.
GRAVITY_M_S2 = 9.80665
# More is no plywood rig: a digit or a unit has slipped.
MOST_TORQUE_NM, MOST_FORCE_N, MOST_MASS_KG = 10_000.0, 100_000.0, 5_000.0
# EN 1995-1-1, 2.3.1.2: how long a load stands in all.
DURATIONS = ("permanent", "long", "medium", "short", "instant")


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What acts on something in one case of use; see `load`.

    Attributes:
        name: The case it belongs to: "gust".
        on: The device or panel it acts on.
        torque_nmm: Torque about the device's own axis, N mm.
        radial_n: Force across that axis, in whichever direction is worst.
        axial_n: Force along that axis, either way.
        mass_kg: Mass that hangs or stands on it; its weight acts along the axis where that is
            upright, else across it.
        at_mm: Where forces across the axis act: this far from the device's seat, along its axis,
            towards the side on which its shaft lies or what is screwed to it.
        duration: How long it stands in all, by EN 1995-1-1: "permanent", "long", "medium",
            "short", "instant".
    """

    name: str
    on: str
    torque_nmm: float = 0.0
    radial_n: float = 0.0
    axial_n: float = 0.0
    mass_kg: float = 0.0
    at_mm: float = 0.0
    duration: str = "short"

    @property
    def weight_n(self) -> float:
        """Weight of the mass."""
        return self.mass_kg * GRAVITY_M_S2


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """With what loads and strengths are weighed; all of them the user's to change.

    Attributes:
        load: Loads are taken this many times; EN 1990 for variable loads, from memory.
        timber: gamma M of wood itself; EN 1995-1-1 table 2.3 for plywood, from memory.
        connection: gamma M of fasteners in wood; the same table.
        glue: Factor on the strength of a glued line. Common practice, no source.
        metal: gamma M0 of metal that stays bent; EN 1993-1-1, from memory.
        bolt: gamma M2 of bolts; EN 1993-1-8, from memory.
        plastic: Factor on the strength of plastics and prints: notches, creep, doubtful figures.
            Common practice, no source.
        friction: Friction of plate on plate, dry. Common practice, no source.
        most_sag: Greatest sag of a plate over its span. Common practice, no source.
        bearing_hours: Life that bearings should reach. Common practice, no source.
        fit: Share of joints that should go together, and should not rattle.
    """

    load: float = 1.5
    timber: float = 1.2
    connection: float = 1.3
    glue: float = 1.3
    metal: float = 1.0
    bolt: float = 1.25
    plastic: float = 2.0
    friction: float = 0.25
    most_sag: float = 1 / 300
    bearing_hours: float = 5000.0
    fit: float = 0.95

    def __post_init__(self) -> None:
        for name in ("load", "timber", "connection", "glue", "metal", "bolt", "plastic"):
            _require_number(getattr(self, name), name, least=0.1, most=100.0)
        _require_number(self.friction, "friction", least=0.0, most=2.0)
        _require_number(self.most_sag, "most_sag", least=1e-6, most=1.0)
        _require_number(self.bearing_hours, "bearing_hours", least=0.001, most=1e7)
        _require_number(self.fit, "fit", least=0.0, most=0.999999)


def _require_number(
    value: object, name: str, *, least: float, most: float, unit: str = ""
) -> float:
    """Return a number within limits.

    Raises:
        PartError: It is not.
    """
    if isinstance(value, (int, float)) and not isinstance(value, bool) and least <= value <= most:
        return float(value)
    raise PartError(
        f"{name} is {value!r}", remedy=f"give a number from {least:g} to {most:g} {unit}".strip()
    )


def load(
    on: str,
    *,
    torque_nm: float = 0.0,
    radial_n: float = 0.0,
    axial_n: float = 0.0,
    mass_kg: float = 0.0,
    at_mm: float = 0.0,
    duration: str = "short",
    name: str = "load",
) -> Load:
    """Return what acts on a device or a panel in one case of use.

    It is followed through what turns on that axis to whatever holds it, and through the plates to
    where the rig is held. Give it as it really comes: the factors are put on by the checks.

    Loads of one name are one case and act together: ``load("hub", torque_nm=30, name="gust")`` and
    ``load("sail", radial_n=80, name="gust")``. Torques on one line add, forces and torques of
    unknown direction add as it is worst. Of loads that stand for different times those that stand
    longer are a case by themselves too. Loads of other names are cases of their own, each weighed
    alone; unnamed ones are one case, "load".

    Args:
        on: The device or panel it acts on: a hub, a turntable.
        torque_nm: Torque about its axis, N m.
        radial_n: Force across its axis, N, in whichever direction is worst.
        axial_n: Force along its axis, N, either way.
        mass_kg: Mass that it carries.
        at_mm: Where forces across the axis act: this far from its seat, along the axis, towards
            the side on which its shaft lies or what is screwed to it.
        duration: How long it stands in all: "permanent", "long", "medium", "short", "instant".
        name: The case it belongs to, which findings name.

    Raises:
        PartError: A number that cannot be, or nothing that acts.
        UnknownNameError: No such duration.
    """
    with concerning(part=str(on)[:64], feature=str(name)[:64]):
        require_safe_name(name)
        require_name(on, "on")
        if duration not in DURATIONS:
            raise UnknownNameError.among("load duration", duration, DURATIONS)
        most = MOST_TORQUE_NM
        made = Load(
            name=name,
            on=on,
            torque_nmm=NMM_PER_NM
            * _require_number(torque_nm, "torque_nm", least=0.0, most=most, unit="N m"),
            radial_n=_require_number(radial_n, "radial_n", least=0.0, most=MOST_FORCE_N, unit="N"),
            axial_n=_require_number(axial_n, "axial_n", least=0.0, most=MOST_FORCE_N, unit="N"),
            mass_kg=_require_number(mass_kg, "mass_kg", least=0.0, most=MOST_MASS_KG, unit="kg"),
            at_mm=require_shift(at_mm, "at_mm"),
            duration=duration,
        )
        if not any((made.torque_nmm, made.radial_n, made.axial_n, made.mass_kg)):
            raise PartError(
                "nothing acts", remedy="give torque_nm, radial_n, axial_n or mass_kg above 0"
            )
        return made


def held_names(held: object) -> tuple[str, ...]:
    """Return what holds a rig from outside as names: one, or several.

    Raises:
        PartError: It is no name.
    """
    several = (held,) if isinstance(held, str) else held
    if isinstance(several, Iterable):
        names = tuple(several)
        if all(isinstance(one, str) and one.strip() for one in names):
            return names
    raise PartError(
        f"held is {repr(held)[:64]}", remedy='give held="base", or several: ("base", "flange")'
    )


@dataclass(frozen=True, kw_only=True)
class Use:
    """How a rig is used: what the checks weigh it against.

    Attributes:
        loads: What acts.
        held: Devices or panels by which the rig is held from outside: a flange, a base.
        factors: With what loads and strengths are weighed.
        strengths: The user's own figures, by name of the sheet material.
        skipped: Names of checks, or families, that are switched off.
        drives: What is driven, by which motor, and fed how.
    """

    loads: tuple[Load, ...] = ()
    held: tuple[str, ...] = ()
    factors: Factors = Factors()
    strengths: Mapping[str, Strength] = field(default_factory=dict)
    skipped: tuple[str, ...] = ()
    drives: tuple[Drive, ...] = ()
