"""Assemblies: panels in space and what holds them together."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, fields, replace

from platekit.assembly.dowelling import dowelled
from platekit.assembly.driving import Drive
from platekit.assembly.joints import Joint, Practice, as_hold, require_clearance
from platekit.assembly.loads import Factors, Load, Use, held_names
from platekit.assembly.mounting import Asked, Belted, Mounted, install, require_each_asked
from platekit.assembly.panels import Panel
from platekit.assembly.proof import Proof, Removal, prove, things_in
from platekit.assembly.resolve import Resolved, require_own_names, resolve
from platekit.errors import PartError, UnknownNameError, concerning
from platekit.hardware import Item
from platekit.materials import Hold, Strength
from platekit.panel.feature import Feature
from platekit.panel.measures import require_length
from platekit.panel.part import require_safe_name
from platekit.panel.plate import Fitted, Plate
from platekit.showing import Shows

JOINT = 'tabs("wall", into="base") or the like'


@dataclass(frozen=True)
class Assembly(Shows):
    """Panels placed as full slabs, corners overlapping, and the joints between them.

    Panels that meet and are given no joint get one that suits: fingers where both end, tabs where
    one ends in the other, a halving where they cross.

    Attributes:
        name: What the whole is called.
        panels: The panels; joints are dealt in this order.
        joints: Joints asked for, one for a pair.
        practice: How joints are made where neither the recipe nor the joint says.
        items: Bought things that stand nowhere in particular: glue, a length of cable.
        hardware: Bought parts mounted, bolts, belts, in the order in which they find their places.
        removals: What must come out of the finished rig.
        use: How it is used: loads, where it is held, factors of the checks.
    """

    name: str
    panels: tuple[Panel, ...] = field(default=(), kw_only=True)
    joints: tuple[Joint, ...] = field(default=(), kw_only=True)
    practice: Practice = field(default=Practice(), kw_only=True)
    items: tuple[Item, ...] = field(default=(), kw_only=True)
    hardware: tuple[Asked, ...] = field(default=(), kw_only=True)
    removals: tuple[Removal, ...] = field(default=(), kw_only=True)
    use: Use = field(default=Use(), kw_only=True)

    def __post_init__(self) -> None:
        require_safe_name(self.name)
        with concerning(part=self.name):
            _require_kind(self.panels, Panel, "panels", "lying(plate, ...) or standing(plate, ...)")
            _require_kind(self.joints, Joint, "joints", JOINT)
            _require_kind(self.items, Item, "items", 'Item("wood glue", 1)')
            _require_kind(self.removals, Removal, "removals", 'comes_out("lid", towards="up")')
        require_own_names(self.panels)
        require_each_asked(self.hardware, whole=self.name)

    def with_panels(self, *panels: Panel) -> Assembly:
        """Return the assembly with further panels.

        Raises:
            PartError: A name is taken.
        """
        return replace(self, panels=(*self.panels, *panels))

    def with_joints(self, *joints: Joint) -> Assembly:
        """Return the assembly with joints of its own for some pairs; a later one replaces.

        Raises:
            PartError: One is no joint.
        """
        with concerning(part=self.name):
            _require_kind(joints, Joint, "joints", JOINT)
        named = {joint.names for joint in joints}
        kept = (joint for joint in self.joints if joint.names not in named)
        return replace(self, joints=(*kept, *joints))

    def with_items(self, *items: Item) -> Assembly:
        """Return the assembly with further bought things on its bill."""
        return replace(self, items=(*self.items, *items))

    def with_hardware(self, *asked: Asked) -> Assembly:
        """Return the assembly with further bought parts: `mounted`, `bolted`, `belted`.

        They cut their own holes, choose their own screws, and stand on the bill.

        Raises:
            PartError: Two of them share a name, or one is none of these.
        """
        return replace(self, hardware=(*self.hardware, *asked))

    def with_removals(self, *wishes: Removal) -> Assembly:
        """Return the assembly with things that must come out again: see `comes_out`."""
        return replace(self, removals=(*self.removals, *wishes))

    def with_loads(self, *loads: Load, held: Iterable[str] = ()) -> Assembly:
        """Return the assembly with further loads that act on it in use: see `load`.

        Args:
            loads: What acts.
            held: Devices or panels by which the rig is held from outside.

        Raises:
            PartError: One is no load, or `held` is no names.
            UnknownNameError: There is nothing of that name to act on or to be held by.
        """
        with concerning(part=self.name):
            _require_kind(loads, Load, "loads", 'load("hub", torque_nm=35.0)')
            names = held_names(held)
        known = [*(panel.name for panel in self.panels), *(one.name for one in self.hardware)]
        for name in (*(one.on for one in loads), *names):
            if name not in known:
                raise UnknownNameError.among("device or panel", name, known)
        use = replace(self.use, loads=(*self.use.loads, *loads), held=(*self.use.held, *names))
        return replace(self, use=use)

    def with_drives(self, *drives: Drive) -> Assembly:
        """Return the assembly with further drives, for its checks: see `drive`.

        Raises:
            PartError: One is no drive, or a motor has two.
            UnknownNameError: There is no device, belt or panel of a name it gives.
        """
        with concerning(part=self.name):
            _require_kind(drives, Drive, "drives", 'drive("motor", output="hub")')
        devices = [one.name for one in self.hardware if isinstance(one, Mounted)]
        belts = [one.name for one in self.hardware if isinstance(one, Belted)]
        outputs = [*devices, *(panel.name for panel in self.panels)]
        driven = [one.motor for one in self.use.drives]
        for one in drives:
            for name in one.devices:
                _require_known("device", name, devices)
            for name in one.belts:
                _require_known("belt", name, belts)
            if one.output:
                _require_known("device or panel", one.output, outputs)
            if one.motor in driven:
                raise PartError(
                    f"{one.motor} has two drives", part=self.name, remedy="give one to each motor"
                )
            driven.append(one.motor)
        return replace(self, use=replace(self.use, drives=(*self.use.drives, *drives)))

    def with_factors(self, **factors: float) -> Assembly:
        """Return the assembly with other factors for its checks, by name: see `Factors`.

        Raises:
            PartError: A number that cannot be.
            UnknownNameError: There is no such factor.
        """
        known = {one.name for one in fields(Factors)}
        for name in factors:
            if name not in known:
                raise UnknownNameError.among("factor", name, known)
        with concerning(part=self.name):
            return replace(
                self, use=replace(self.use, factors=replace(self.use.factors, **factors))
            )

    def with_strengths(self, **strengths: Strength) -> Assembly:
        """Return the assembly with your own strengths of sheet materials.

        A material's name is written with "_" for a space: ``birch_plywood=Strength(...)``.
        """
        named = {name.replace("_", " "): strength for name, strength in strengths.items()}
        return replace(self, use=replace(self.use, strengths={**self.use.strengths, **named}))

    def without_checks(self, *names: str) -> Assembly:
        """Return the assembly with some checks, or families of them, switched off."""
        return replace(self, use=replace(self.use, skipped=(*self.use.skipped, *names)))

    def with_practice(
        self,
        *,
        hold: Hold | str | None = None,
        clearance_mm: float | None = None,
        finger_width_mm: float | None = None,
        joined: bool | None = None,
    ) -> Assembly:
        """Return the assembly with other habits where joints do not say; see `Practice`.

        Raises:
            PartError: A size that cannot be.
            UnknownNameError: No such hold.
        """
        practice = self.practice
        with concerning(part=self.name):
            if hold is not None:
                practice = replace(practice, hold=as_hold(hold) or practice.hold)
            if clearance_mm is not None:
                practice = replace(practice, clearance_mm=require_clearance(clearance_mm))
            if finger_width_mm is not None:
                width = require_length(finger_width_mm, "finger width")
                practice = replace(practice, finger_width_mm=width)
            if joined is not None:
                practice = replace(practice, joined=joined)
        return replace(self, practice=practice)

    def with_features(self, panel: str, *features: Feature | Fitted) -> Assembly:
        """Return the assembly with features cut into one of its panels; see `Plate`.

        In a laminate they go through every layer.

        Raises:
            PartError: A feature lies off the panel, across its edge or over another.
            UnknownNameError: There is no such panel.
        """
        return self._changed(panel, lambda plate: plate.with_features(*features))

    def without(self, *panels: str) -> Assembly:
        """Return the assembly without some panels and their joints.

        Raises:
            UnknownNameError: There is no such panel.
        """
        for name in panels:
            self.panel(name)
        return replace(
            self,
            panels=tuple(panel for panel in self.panels if panel.name not in panels),
            joints=tuple(joint for joint in self.joints if not joint.names & set(panels)),
        )

    def panel(self, name: str) -> Panel:
        """Return the panel called `name`.

        Raises:
            UnknownNameError: There is none; the message lists those there are.
        """
        for panel in self.panels:
            if panel.name == name:
                return panel
        raise UnknownNameError.among("panel", name, [panel.name for panel in self.panels])

    def resolve(self) -> Resolved:
        """Return the parts, every joint dealt and cut; see `platekit.assembly.resolve`.

        Raises:
            PartError: There are no panels, or something cannot be made as asked.
            UnknownNameError: A joint names a panel that is not there.
        """
        if not self.panels:
            raise PartError(
                "there are no panels", part=self.name, remedy="add some with with_panels()"
            )
        installed = install(self.panels, self.hardware)
        resolved = resolve(dowelled(installed.panels), self.joints, self.practice)
        return replace(
            resolved,
            findings=(*installed.findings, *resolved.findings),
            items=(*resolved.items, *installed.items, *self.items),
            bodies=(*installed.bodies, *resolved.bodies),
            fastenings=(*installed.fastenings, *resolved.fastenings),
            hazards=installed.hazards,
            standing=installed.standing,
        )

    def prove(self, resolved: Resolved) -> Proof:
        """Return whether the resolved assembly goes together, and in which order.

        Raises:
            UnknownNameError: Something that is to come out is not there.
        """
        return prove(things_in(resolved), self.removals)

    def _changed(self, name: str, change: Callable[[Plate], Plate]) -> Assembly:
        found = self.panel(name)
        changed = replace(found, layers=tuple(change(plate) for plate in found.layers))
        panels = tuple(changed if panel is found else panel for panel in self.panels)
        return replace(self, panels=panels)


def _require_known(kind: str, name: str, known: Iterable[str]) -> None:
    """Raise unless there is something of that name.

    Raises:
        UnknownNameError: There is not; the message lists what there is.
    """
    if name not in known:
        raise UnknownNameError.among(kind, name, known)


def _require_kind(given: Iterable[object], kind: type, feature: str, wanted: str) -> None:
    """Raise unless everything given is of one kind: what came without its own function is a slip.

    Raises:
        PartError: It is not.
    """
    for one in given:
        if not isinstance(one, kind):
            raise PartError(f"one is {repr(one)[:64]}", feature=feature, remedy=f"give {wanted}")
