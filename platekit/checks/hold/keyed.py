"""Keys: the pressure on their sides and the shear along them, in their place."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.hold.following import Grasp
from platekit.checks.hold.turning import ROOT_3, Line, Stuff, key_in
from platekit.checks.weighing import untold, weighed
from platekit.findings import Finding
from platekit.formulas.keys import key_shear_mpa, key_side_pressure_mpa
from platekit.hardware.keys import ParallelKey
from platekit.hardware.solids import solid

# DIN 6892, method C (from memory): metal may be pressed to this share of its yield.
PRESSED = 0.9
# DIN 6885-1 keys are of drawn steel of about this kind (from memory).
KEY_STEEL = "steel C45"


def bearing_length_mm(grasp: Grasp, key: ParallelKey) -> tuple[float, float]:
    """Return over which length a key bears, and how long it is; round ends do not bear.

    A key of unknown length is taken as the longest made that the grip takes in, else the shortest
    made.
    """
    length = grasp.grip.key_mm
    if not length:
        within = [made for made in key.lengths_mm if made <= grasp.length_mm]
        length = max(within, default=key.shortest_mm)
    return min(length - key.width_mm, grasp.length_mm), length


def key_found(
    name: str, line: Line, grasp: Grasp, *, hub: Stuff | None, shaft: Stuff | None
) -> Iterator[Finding]:
    """Weigh the key of a grip.

    Raises:
        PartError: No standard key is made for the bore.
    """
    grip = grasp.grip
    where = f"key on {grasp.shaft.name}"
    if hub is None or shaft is None:
        yield untold(
            name,
            part=grasp.holder.name,
            feature=where,
            measure="what it is made of is not said, so its key is not weighed",
            remedy="give made_of",
        )
        return
    key = key_in(grip.bore_mm)
    bears, length = bearing_length_mm(grasp, key)
    steel = Stuff(solid=solid(KEY_STEEL), factor=line.factors.metal)
    softest = min((hub, shaft, steel), key=lambda one: one.yield_mpa)
    share = PRESSED if softest.metal else 1.0
    size = f"{key.width_mm:g}x{key.height_mm:g}x{length:g}" + ("" if grip.key_mm else ", taken")
    length_said = f"L = {bears:.3g} mm of a key {size}"
    yield weighed(
        name,
        part=grasp.holder.name,
        feature=where,
        measure=f"pressure on the sides of the key, {line.name},",
        value=key_side_pressure_mpa(
            line.torque_nmm, shaft_mm=grip.bore_mm, height_mm=key.height_mm, length_mm=bears
        ),
        most=share * softest.yield_mpa,
        unit="MPa",
        source=f"DIN 6892 method C, from memory; {softest.source}",
        remedy="give it a longer key and hub, a thicker shaft, or a harder hub",
        formula=f"{line.torque_said}; 4 T / (D h L) = 4 x {line.torque_nmm:.5g} / "
        f"({grip.bore_mm:g} x {key.height_mm:g} x {bears:.3g}), {length_said}; limit "
        f"{share:g} x {softest.yield_said}",
    )
    yield weighed(
        name,
        part=grasp.holder.name,
        feature=where,
        measure=f"shear of the key, {line.name},",
        value=key_shear_mpa(
            line.torque_nmm, shaft_mm=grip.bore_mm, width_mm=key.width_mm, length_mm=bears
        ),
        most=steel.yield_mpa / ROOT_3,
        unit="MPa",
        source=f"von Mises; {steel.source}",
        remedy="give it a longer key and hub, or a thicker shaft",
        formula=f"{line.torque_said}; 2 T / (D b L) = 2 x {line.torque_nmm:.5g} / "
        f"({grip.bore_mm:g} x {key.width_mm:g} x {bears:.3g}), {length_said}; limit "
        f"{steel.yield_said} / sqrt 3",
    )
