"""The family as a whole: silent on sound recipes, and asked about by name."""

from pathlib import Path

import pytest

from platekit.assembly import Assembly, tabs
from platekit.checks import fit
from platekit.checks.examine import examine
from platekit.checks.subject import Subject
from platekit.findings import Severity
from platekit.job.recipe import load_recipe
from platekit.materials import birch_plywood
from tests.checks.fit.rigs import subject, tee

RECIPES = sorted((Path(__file__).parents[3] / "recipes").glob("*.py"))


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_recipes_are_sound(path):
    """Plywood 6 mm that measures 6.2 mm: no warning, and few notes that are not repeated."""
    made = load_recipe(path).call(birch_plywood(6.0, thickness_mm=6.2), values={})
    whole = (made, made.resolve()) if isinstance(made, Assembly) else None
    job = Subject(pieces=(), whole=whole)
    found = [one for check in fit.CHECKS for one in check.run(job)]
    assert bool(found) == (whole is not None)
    told = [one for one in found if one.severity is not Severity.PASSED]
    assert {one.severity for one in told} <= {Severity.NOTE}, [str(one) for one in told]
    assert len(told) <= 2
    assert {one.check for one in found} <= {check.name for check in fit.CHECKS}


def test_a_check_can_be_switched_off():
    """By its own name, and with its family."""
    job = subject(tee(tabs("wall", into="floor", clearance_mm=-0.1)))
    assert any(one.check == "fit.joint" for one in examine(job).findings)
    assert not any(one.check == "fit.joint" for one in examine(job, skip=["fit.joint"]).weighed)
    assert not any(one.check.startswith("fit.") for one in examine(job, skip=["fit"]).weighed)


def test_what_a_rig_wants_is_its_own():
    """A share asked for of one half: the same joint passes that does not at 95 in 100."""
    rig = tee(tabs("wall", into="floor", count=4, clearance_mm=-0.05))
    strict, lax = (examine(subject(one)) for one in (rig, rig.with_factors(fit=0.3)))
    assert any(one.check == "fit.joint" for one in strict.findings)
    assert not any(one.check == "fit.joint" for one in lax.findings)
