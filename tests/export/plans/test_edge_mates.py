"""Names of what meets an edge: read off the paper by pdfium, and held against the rig by hand."""

from __future__ import annotations

import numpy as np
import pypdfium2
import pytest

from platekit.assembly import Assembly, lying, standing
from platekit.export.plans.book import plans_pdf
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.drawings.edge_mates import mates_of
from platekit.export.plans.printing.paper import Paper
from platekit.geometry.shapes import rectangle
from platekit.job.assembling import assembly_record
from platekit.job.purposes import purposes_of
from platekit.job.resolving import resolved
from platekit.materials import birch_plywood
from platekit.panel.plate import Plate
from tests.export.plans.words import words_of

SHEET = birch_plywood(6.0)


def rig() -> Assembly:
    """A floor, two walls on it at its left and right ends, a rib across between them."""
    plate = {
        name: Plate(name, SHEET, rectangle(*size))
        for name, size in (
            ("floor", (200.0, 120.0)),
            ("westwall", (120.0, 80.0)),
            ("eastwall", (120.0, 80.0)),
            ("crossrib", (200.0, 60.0)),
        )
    }
    return Assembly("trial").with_panels(
        lying(plate["floor"], bottom_mm=0.0),
        standing(plate["westwall"], facing="left", left_mm=0.0, bottom_mm=0.0),
        standing(plate["eastwall"], facing="right", right_mm=200.0, bottom_mm=0.0),
        standing(plate["crossrib"], facing="front", front_mm=60.0, bottom_mm=0.0),
    )


@pytest.fixture(scope="module")
def plans() -> PlansOf:
    """The rig on A4."""
    given = resolved(rig())
    whole, done = given.whole
    return PlansOf(
        name="trial",
        parts=done.parts,
        paper=Paper.parse("A4"),
        named=purposes_of(given),
        assembly=assembly_record(given, whole.prove(done)),
    )


def drawing_of(plans: PlansOf, name: str) -> dict[str, np.ndarray]:
    """Return the middles of the words on a part's drawing."""
    document = pypdfium2.PdfDocument(plans_pdf(plans))
    for page in document:
        if f"{name}: drawing" in page.get_textpage().get_text_bounded():
            return {word.said: word.middle for word in words_of(page)}
    raise AssertionError(name)


def test_a_rib_names_what_stands_at_its_ends_and_under_it(plans):
    """Seen from the front, as it stands: west is left of east, the floor below both."""
    words = drawing_of(plans, "crossrib")
    west, east, floor = words["westwall"], words["eastwall"], words["floor"]
    assert west[0] < floor[0] < east[0]
    assert floor[1] < min(west[1], east[1])
    assert {"Grey", "names:"} <= set(words)


def test_slots_in_mid_panel_are_no_edge(plans):
    """What the rib puts through the floor is told in the table, not at an edge."""
    floor = next(part for part in plans.parts if part.name == "floor")
    names = {part.name for part in plans.parts}
    found = mates_of(floor.profile.bounds, plans.named["floor"], names)
    assert {(one.name, one.edge) for one in found} == {("westwall", "left"), ("eastwall", "right")}


def test_nothing_is_said_where_nothing_is_known(plans):
    """A rig whose joints' cuts are not named has no names at its edges, and no words on them."""
    words = drawing_of(PlansOf(name="trial", parts=plans.parts, paper=plans.paper), "crossrib")
    assert not {"westwall", "Grey"} & set(words)
