"""What turns under a load: the way its torque goes, and the material of each part on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from platekit.assembly.loads import Factors
from platekit.assembly.mounting import Standing
from platekit.checks.hold.belted import acting, holder
from platekit.checks.hold.following import Followed, Grasp
from platekit.checks.hold.seats import factors_of
from platekit.checks.subject import Subject
from platekit.hardware.keys import ParallelKey, key_for
from platekit.hardware.solids import Solid, solid

NMM_PER_NM = 1000.0
# Torques below this are none: rounding of zero.
LEAST_NMM = 1e-3
# Von Mises, of shear.
ROOT_3 = 3**0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Stuff:
    """What a part is made of, and with which factor that is weighed.

    Attributes:
        solid: The material.
        factor: Factor on its strength: that of metal, else that of plastics.
        taken: Whether nobody said so and the usual one is taken.
    """

    solid: Solid
    factor: float
    taken: bool = False

    @property
    def metal(self) -> bool:
        """Whether it is a metal."""
        return self.solid.kind == "metal"

    @property
    def yield_mpa(self) -> float:
        """Stress it may be trusted with, along the layers where it is printed."""
        return self.solid.yield_mpa / self.factor

    @property
    def shear_mpa(self) -> float:
        """Shear stress it may be trusted with, across the layers where it is printed."""
        return self.solid.shear_yield_mpa / self.factor

    @property
    def said(self) -> str:
        """Its name, with a word where it was taken."""
        return f"{self.solid.name}, taken" if self.taken else self.solid.name

    @property
    def shear_said(self) -> str:
        """How its shear stress comes about, numbers put in."""
        share = "" if self.solid.share == 1.0 else f"{self.solid.share:g} x "
        return f"{self.said}: {share}{self.solid.yield_mpa:g} / sqrt 3 / {self.factor:g}"

    @property
    def yield_said(self) -> str:
        """How its stress comes about, numbers put in."""
        return f"{self.said}: {self.solid.yield_mpa:g} / {self.factor:g}"

    @property
    def source(self) -> str:
        """Where its figures come from."""
        return f"strength of {self.solid.name}: {self.solid.source}"


@dataclass(frozen=True, kw_only=True)
class Line:
    """A load that turns something, on its way to what holds it.

    Attributes:
        one: The load followed.
        factors: Factors of the assembly.
        path: The grips its torque goes through, from the entry to what holds it; where nothing
            does, all there are.
        holds: What holds the torque: the motor, or the part that a belt to one turns; None where
            nothing does.
        own_nmm: Torque looked at, without factor: all of it, or what comes to one grip of several
            places where loads enter.
        carried_nmm: What each grip of the path passes on.
    """

    one: Followed
    factors: Factors
    path: tuple[Grasp, ...]
    holds: Standing | None
    own_nmm: float
    carried_nmm: tuple[float, ...]

    @property
    def torque_nmm(self) -> float:
        """Torque times the factor on loads."""
        return self.factors.load * self.own_nmm

    @property
    def torque_said(self) -> str:
        """How that came about: "T = 1.5 x 35 N m"."""
        return f"T = {self.factors.load:g} x {self.own_nmm / NMM_PER_NM:g} N m"

    def at(self, grasp: Grasp) -> Line:
        """Return the line with the torque that one of its grips passes on."""
        return replace(self, own_nmm=self.carried_nmm[self.path.index(grasp)])

    def through(self, part: Standing) -> Line:
        """Return the line with the torque that goes through a part: none where nothing holds it.

        The greatest that a grip at it passes on.
        """
        if self.holds is None and self.path:
            return replace(self, own_nmm=0.0)
        carried = [
            nmm
            for nmm, grasp in zip(self.carried_nmm, self.path, strict=True)
            if part in (grasp.holder, grasp.shaft)
        ]
        return replace(self, own_nmm=max(carried, default=self.own_nmm))

    @property
    def name(self) -> str:
        """Name of the load."""
        return self.one.load.name

    def holding(self, part: Standing) -> tuple[Grasp, ...]:
        """Return the grips on the way that a part holds with."""
        return tuple(grasp for grasp in self.path if grasp.holder is part)

    def held(self, part: Standing) -> tuple[Grasp, ...]:
        """Return the grips on the way that hold a part's shaft."""
        return tuple(grasp for grasp in self.path if grasp.shaft is part)

    @property
    def parts(self) -> tuple[Standing, ...]:
        """Everything on the way, from the entry on."""
        found = [] if self.one.entry is None else [self.one.entry]
        for grasp in self.path:
            found += [part for part in (grasp.holder, grasp.shaft) if part not in found]
        return tuple(found)


def lines(subject: Subject) -> Iterator[Line]:
    """Return every line of devices that loads come in by, those of one case as one."""
    factors = factors_of(subject)
    for one in acting(subject):
        if one.entry is None:
            continue
        holds = holder(subject, one)
        ways = [(act.load.torque_nmm, path(one, start=act.on, to=holds)) for act in one.acts]
        whole = _with_twins([grasp for _, way in ways for grasp in way], one.grasps)
        yield Line(
            one=one,
            factors=factors,
            path=whole,
            holds=holds,
            own_nmm=one.load.torque_nmm,
            carried_nmm=tuple(
                sum(nmm for nmm, way in ways if any(grasp is each for each in way))
                for grasp in whole
            ),
        )


def path(one: Followed, *, start: Standing, to: Standing | None) -> tuple[Grasp, ...]:
    """Return the grips between where a load enters and what holds it; all where nothing does.

    What hangs on the line elsewhere, an encoder's coupling, passes on nothing of the load.
    """
    if to is None:
        return one.grasps
    ways: dict[int, tuple[Grasp, ...]] = {id(start): ()}
    reached = [start]
    for part in reached:
        if part is to:
            return _with_twins(ways[id(part)], one.grasps)
        for grasp in one.grasps:
            for here, there in ((grasp.holder, grasp.shaft), (grasp.shaft, grasp.holder)):
                if here is part and id(there) not in ways:
                    ways[id(there)] = (*ways[id(part)], grasp)
                    reached.append(there)
    return one.grasps


def _with_twins(way: Sequence[Grasp], every: Sequence[Grasp]) -> tuple[Grasp, ...]:
    """Return a way with every further grip of the same two parts on each other."""
    pairs = [{id(grasp.holder), id(grasp.shaft)} for grasp in way]
    return tuple(grasp for grasp in every if {id(grasp.holder), id(grasp.shaft)} in pairs)


def stuff_of(part: Standing, factors: Factors, *, usual: str = "") -> Stuff | None:
    """Return what a part is made of; where nobody says, the usual one; None without either."""
    name = part.device.made_of or usual
    if not name:
        return None
    made = solid(name)
    factor = factors.metal if made.kind == "metal" else factors.plastic
    return Stuff(solid=made, factor=factor, taken=not part.device.made_of)


def is_bush(part: Standing) -> bool:
    """Whether a part is a sleeve between a shaft and a bore: gripped where it grips."""
    shaft = part.device.shaft
    return shaft is not None and any(
        grip.outer_mm == shaft.diameter_mm and grip.length_mm == shaft.high_mm - shaft.low_mm
        for grip in part.device.grips
    )


def key_in(bore_mm: float) -> ParallelKey:
    """Return the standard key of a bore.

    Raises:
        PartError: None is made for it.
    """
    return key_for(bore_mm)


def slot_mm(grasp: Grasp) -> float:
    """Return the bore of a grip with its keyway, on diameter; the bore itself without one.

    Raises:
        PartError: No standard key is made for the bore.
    """
    bore = grasp.grip.bore_mm
    return bore + 2 * key_in(bore).hub_depth_mm if grasp.grip.hold == "key" else bore
