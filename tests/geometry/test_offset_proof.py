"""The proofs of an offset catch every fault put into it, and the fallbacks work."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
import pytest

from platekit.errors import ApproximationWarning
from platekit.geometry.chains import Contour
from platekit.geometry.offset import careful, offset_rings
from platekit.geometry.offset.careful import Outcome, careful_offset
from platekit.geometry.offset.losses import LossKind
from platekit.geometry.offset.proof import fault, proved, witness_of
from platekit.geometry.offset.rows import MovedRows, RingRows, moved_rows
from platekit.geometry.offset.trim import Trimmed, trimmed
from platekit.geometry.offset.weave import Traced, woven
from platekit.geometry.profile import Profile
from platekit.geometry.tables import CX, TURN, X0, X1, Y0, Y1, R, Table, is_arc
from tests.geometry.offset_oracle import worst_deviation
from tests.geometry.offset_shapes import (
    fingers,
    random_profiles,
    rectangle,
    rounded,
    seeded,
    slot,
)

TOLERANCE_MM = 2e-4


def rings(count: int) -> Iterator[tuple[Table, float]]:
    """Yield random rings that are no circles, each with a growth."""
    seed = 0
    while count:
        seed += 1
        rng = seeded(seed)
        for piece in random_profiles(rng):
            growth = rng.uniform(0.05, 0.25)
            for ring in piece.rings:
                if not ring.is_circle and count:
                    count -= 1
                    yield ring.table, growth


def larger_radius(table: Table) -> Table | None:
    """Make one arc 5 um larger about its centre."""
    arcs = np.flatnonzero(is_arc(table))
    if not len(arcs):
        return None
    out = table.copy()
    k = arcs[len(arcs) // 2]
    for x in (0, 1):
        out[k, [X0 + x, X1 + x]] = out[k, CX + x] + (out[k, [X0 + x, X1 + x]] - out[k, CX + x]) * (
            1 + 5e-3 / out[k, R]
        )
    out[k, R] += 5e-3
    return out


def dropped_row(table: Table) -> Table | None:
    """Leave a row out."""
    return np.delete(table, len(table) // 2, axis=0) if len(table) > 2 else None


def shifted(table: Table) -> Table | None:
    """Shift everything by 2 um."""
    out = table.copy()
    out[:, [X0, X1]] += 2e-3
    out[is_arc(table), CX] += 2e-3
    return out


def flipped_arc(table: Table) -> Table | None:
    """Turn one arc the other way."""
    arcs = np.flatnonzero(is_arc(table))
    if not len(arcs):
        return None
    out = table.copy()
    out[arcs[0], TURN] *= -1
    return out


def bevelled(table: Table) -> Table | None:
    """Replace the longest small arc by its chord."""
    chord = np.hypot(table[:, X1] - table[:, X0], table[:, Y1] - table[:, Y0])
    arcs = np.flatnonzero(is_arc(table) & (chord > 0.02))
    if not len(arcs):
        return None
    out = table.copy()
    out[arcs[0], CX:] = 0.0
    return out


def moved_corner(table: Table) -> Table | None:
    """Move a corner between two lines by 3 um, aside from both."""
    lines = ~is_arc(table)
    pairs = np.flatnonzero(lines & np.roll(lines, -1))
    if not len(pairs):
        return None
    k = int(pairs[0])
    after = (k + 1) % len(table)
    way = table[k, [X1, Y1]] - table[k, [X0, Y0]]
    aside = 3e-3 * np.array([way[1], -way[0]]) / np.hypot(*way)
    out = table.copy()
    out[k, [X1, Y1]] += aside
    out[after, [X0, Y0]] += aside
    return out


FAULTS: list[Callable[[Table], Table | None]] = [
    larger_radius,
    dropped_row,
    shifted,
    flipped_arc,
    bevelled,
    moved_corner,
]


class TestMutations:
    """Faults put in by hand, all of them caught."""

    @pytest.mark.parametrize("spoil", FAULTS, ids=lambda f: f.__name__)
    def test_the_careful_proof_catches(self, spoil: Callable[[Table], Table | None]) -> None:
        """Every spoilt ring is refused; the unspoilt ones pass."""
        tried = 0
        for source, growth in rings(60):
            witness = witness_of(source, growth_mm=growth, tolerance_mm=TOLERANCE_MM)
            (made,) = woven(moved_rows(RingRows.of([source]), growth_mm=growth))
            tables = [traced.table for traced in made]

            def reason(given: list[Table]) -> str | None:
                return fault(
                    source,  # noqa: B023  called in this round only
                    given,
                    growth_mm=growth,  # noqa: B023
                    witness=witness,  # noqa: B023
                    tolerance_mm=TOLERANCE_MM,
                )

            if not tables or reason(tables) is not None:
                continue
            spoilt = spoil(tables[0])
            if spoilt is None:
                continue
            tried += 1
            assert reason([spoilt, *tables[1:]]) is not None
            assert reason(tables[1:]) is not None, "a ring left out"
        assert tried >= 10

    @pytest.mark.parametrize("spoil", FAULTS, ids=lambda f: f.__name__)
    def test_the_quick_proof_catches(self, spoil: Callable[[Table], Table | None]) -> None:
        """Every spoilt ring is refused there as well."""
        tried = 0
        for source, growth in rings(60):
            moved = moved_rows(RingRows.of([source]), growth_mm=growth)
            cut = trimmed(moved)
            if not cut.sound.all() or not proved(moved, cut).all():
                continue
            spoilt = spoil(cut.table)
            if spoilt is None:
                continue
            tried += 1
            assert not proved(moved, _with_table(cut, spoilt)).any()
        assert tried >= 10

    def test_a_ring_that_crosses_itself_is_refused(self) -> None:
        """A notch narrower than the cut, trimmed blindly, never passes for sound."""
        ring = rectangle(0, 0, 10, 0.15).reversed()
        moved = moved_rows(RingRows.of([ring.table]), growth_mm=0.1)
        assert not trimmed(moved).sound.any()


def _with_table(cut: Trimmed, table: Table) -> Trimmed:
    """Return the trimmed ring with other rows, one row fewer allowed."""
    n = len(table)
    if n == len(cut.table):
        return replace(cut, table=table)
    keep = np.delete(np.arange(n + 1), (n + 1) // 2)
    return replace(
        cut,
        table=table,
        source=cut.source[keep],
        joining=cut.joining[keep],
        ring=cut.ring[keep],
        first=np.array([0, n]),
    )


class TestFallbacks:
    """The rungs of the ladder, each made to stand alone."""

    @staticmethod
    def _nothing(moved: MovedRows) -> tuple[list[Traced], ...]:
        return tuple([] for _ in range(moved.rows.count))

    @pytest.fixture
    def _weaveless(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(careful, "woven", self._nothing)

    @pytest.mark.parametrize(
        "ring",
        [
            rounded(0, 0, 20, 16, 3),
            rounded(0, 0, 10, 6, 0.05).reversed(),
            slot(length_mm=20, width_mm=4).reversed(),
            fingers(width=40, height=20, depth=3, along=4, up=2),
        ],
    )
    @pytest.mark.usefixtures("_weaveless")
    def test_a_rebuild_from_shapely_is_exact(self, ring: Contour) -> None:
        """Without the weave the ring is rebuilt by provenance, just as exactly."""
        moved = moved_rows(RingRows.of([ring.table]), growth_mm=0.1)
        (outcome,) = careful_offset(moved)
        assert not outcome.approximated
        made = [Contour.trusted(traced.table) for traced in outcome.rings]
        assert len(made) == 1
        assert worst_deviation(ring, made, 0.1) < 1e-9

    @pytest.mark.usefixtures("_weaveless")
    def test_the_last_resort_is_a_polyline_and_says_so(
        self, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """With every proof failing, chords within a tenth of a micron, a loss and a warning."""
        monkeypatch.setattr(careful, "_rebuilt", lambda *_: None)
        ring = rounded(0, 0, 10, 6, 0.05).reversed()
        plate = Profile(rectangle(-5, -5, 15, 11), (ring,))
        with pytest.warns(ApproximationWarning, match="ring 1"):
            result = offset_rings(plate, growth_mm=0.1)
        assert LossKind.APPROXIMATED in {loss.kind for loss in result.losses}
        (hole,) = result.profile.inners
        # 1.2 um: shapely thins its input by up to 1.2 % of the distance.
        assert worst_deviation(ring, [hole], 0.1) < 1.2e-3 + 1e-4

    def test_edges_that_fall_on_each_other_are_no_ring(self) -> None:
        """A slot exactly as wide as the kerf closes, and is flagged as being at the limit."""
        ring = rectangle(0, 0, 10, 0.25).reversed()
        (outcome,) = careful_offset(moved_rows(RingRows.of([ring.table]), growth_mm=0.125))
        assert outcome == Outcome((), at_limit=True)
