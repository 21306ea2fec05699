"""Joints that are alike to chance, and what they are when drawn by lot."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from platekit.assembly.made import Made
from platekit.assembly.panels import Panel
from platekit.checks.fit.lots import (
    Drawn,
    Lots,
    chance_for,
    drawn_mm,
    drawn_range_mm,
    greatest_of,
    least_of,
)
from platekit.checks.subject import Subject
from platekit.materials import Hold, Sheet
from platekit.materials.scatter import Scatter, scatter_of

# Joints whose ends only meet: nothing grips the sheet's thickness.
ENDS_ONLY = frozenset({"fingers"})
# Slabs that share less than this only touch.
TOUCHING_MM = 0.01
# Joints that come in numbers.
COUNTED = {"fingers": "finger", "tabs": "tab", "screwed": "screwed tab"}


@dataclass(frozen=True, kw_only=True)
class Alike:
    """What makes two joints the same to chance.

    Attributes:
        kind: "fingers", "tabs", "tongue", "halving", "screwed", "passing".
        hold: What keeps it together.
        clearance_mm: Opening less what goes in.
        places: How many tabs or fingers; of halvings how many sit on one panel of a grid, where
            all must find their place at once; else 1.
        one: Sheets of the panel whose thickness is gripped, layer by layer.
        other: Sheets of the panel that grips it.
    """

    kind: str
    hold: Hold
    clearance_mm: float
    places: int
    one: tuple[Sheet, ...]
    other: tuple[Sheet, ...]

    @property
    def words(self) -> str:
        """The joint in words: "5 glued tabs"."""
        if self.kind in COUNTED:
            plural = "" if self.places == 1 else "s"
            return f"{self.places} {self.hold.value} {COUNTED[self.kind]}{plural}"
        if self.kind == "halving" and self.places > 1:
            return f"{self.hold.value} halving in a grid of {self.places}"
        return f"{self.hold.value} {self.kind}"

    @property
    def scatter(self) -> Scatter:
        """Scatter of the beam, and what whichever of both materials gives way less bears."""
        both = (scatter_of(sheet.material.kind) for sheet in (self.one[0], self.other[0]))
        return min(both, key=lambda one: (one.forced_mm, one.pressed_mm))


def alike_of(subject: Subject) -> dict[Alike, list[Made]]:
    """Return the joints of a job that interlock, those alike together, in the order dealt."""
    found: dict[Alike, list[Made]] = {}
    if subject.whole is None:
        return found
    _, done = subject.whole
    panels = {panel.name: panel for panel in done.panels}
    crossings = Counter(
        name for made in done.joints if made.kind == "halving" for name in made.between
    )
    for made in done.joints:
        if made.hold is None or made.clearance_mm is None:
            continue
        one, other = (panels[name] for name in made.between)
        key = Alike(
            kind=made.kind,
            hold=made.hold,
            clearance_mm=made.clearance_mm,
            places=_in_grid(made, crossings) if made.kind == "halving" else max(made.tabs, 1),
            one=_reaching(one, other),
            other=_reaching(other, one),
        )
        found.setdefault(key, []).append(made)
    return found


def _in_grid(made: Made, crossings: Mapping[str, int]) -> int:
    """Return how many halvings must find their place at once; 1 where a panel can be moved."""
    several = [crossings[name] for name in made.between]
    return max(several) if min(several) > 1 else 1


def _reaching(panel: Panel, mate: Panel) -> tuple[Sheet, ...]:
    """Return the sheets of those layers that reach into a mate; all where none is seen to."""
    low, high = mate.reach
    found = []
    for plate, frame in zip(panel.layers, panel.layer_frames(), strict=True):
        near, far = Panel(plate.name, (plate,), frame).reach
        shared = (
            min(b, d) - max(a, c)
            for a, b, c, d in (
                (near.x, far.x, low.x, high.x),
                (near.y, far.y, low.y, high.y),
                (near.z, far.z, low.z, high.z),
            )
        )
        if min(shared) > TOUCHING_MM:
            found.append(plate.sheet)
    return tuple(found) or tuple(plate.sheet for plate in panel.layers)


def thickness_half_mm(sheets: Iterable[Sheet]) -> float:
    """Return half of the band of several layers' thickness together: roots of summed squares."""
    return math.hypot(*(scatter_of(sheet.material.kind).thickness_mm for sheet in sheets))


@lru_cache(maxsize=64)
def lots_of(
    joint: Alike, *, draws: int, seed: int, bought_mm: tuple[float, float] = (0.0, 0.0)
) -> Lots:
    """Return joints of one sort drawn by lot.

    Along the joint an opening is wider by the kerf's error and what goes in narrower by it;
    across, the opening is wider and the sheet as thick as it is. Either way every tab lies beside
    its slot by an error of its own.

    Args:
        joint: The joint.
        draws: How many.
        seed: Start of chance.
        bought_mm: Least and greatest of what the gripped sheet may be thicker than said, evenly
            spread; 0 where it is measured.
    """
    # The number of places is not among the words: one tab more is one lot more of the same joints,
    # so that it never makes a joint easier. Each direction has lots of its own.
    words = (joint.kind, joint.hold.value, *joint.one, "into", *joint.other)
    chance = chance_for(seed, *words)
    scatter = joint.scatter

    def size(half_mm: float, name: str) -> Drawn:
        return drawn_mm(half_mm, count=draws, chance=chance, name=name)

    def offsets(way: str) -> Drawn:
        own = chance_for(seed, *words, way)
        return drawn_range_mm(scatter.pitch_mm, places=joint.places, count=draws, chance=own)

    kerf = size(scatter.kerf_mm, "kerf")
    # Parts of one sheet are cut with one kerf; of two, each with its own.
    other_kerf = kerf if joint.one[0] == joint.other[0] else size(scatter.kerf_mm, "kerf")
    even = chance.uniform(*bought_mm, draws) if any(bought_mm) else 0.0
    gripped = size(thickness_half_mm(joint.one), "thickness") + len(joint.one) * even
    gaps: list[Drawn]
    if joint.kind == "halving":
        # Each grips the other's thickness; how deep the slots are does not decide.
        theirs = size(thickness_half_mm(joint.other), "thickness") + len(joint.other) * even
        gaps = [other_kerf - gripped, kerf - theirs]
        plays = [gap - offsets(way) for gap, way in zip(gaps, ("one", "other"), strict=True)]
    else:
        along = kerf + other_kerf
        gaps, plays = [along], [along - offsets("along")]
        if joint.kind not in ENDS_ONLY:
            gaps.append(other_kerf - gripped)
            plays.append(gaps[-1] - offsets("across"))
    tight = least_of(plays)
    match joint.hold:
        case Hold.GLUED:
            limits, wide = (-scatter.forced_mm, scatter.filled_mm), greatest_of(gaps)
        case Hold.SLIP:
            limits, wide = (0.0, scatter.loose_mm), greatest_of(plays)
        case Hold.PRESS:
            limits, wide = (-scatter.pressed_mm, 0.0), tight
    return Lots(tight_mm=tight, wide_mm=wide, least_mm=limits[0], most_mm=limits[1])
