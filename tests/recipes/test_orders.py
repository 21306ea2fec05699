"""The order of assembly of every recipe, tried on a bench of small moves that knows no sweeps."""

import pytest

from platekit.assembly.proof import prove, things_in
from platekit.assembly.proof.things import as_carried
from tests.assembly.proof.bench import trouble
from tests.recipes.builds import NAMES, assembly, resolved


@pytest.mark.parametrize("name", NAMES)
def test_every_recipe_goes_together_as_its_steps_say(name: str) -> None:
    """Everything finds its way in along its step, every screw and nut its hole, every tool room.

    Witness: manifold3d; bodies moved 3 mm at a time, no sheet is thinner.
    """
    things = as_carried(things_in(resolved(name)))
    proved = prove(things_in(resolved(name)), assembly(name).removals)
    assert proved.findings == ()
    assert trouble(things, proved.steps, step_mm=3.0) == []
