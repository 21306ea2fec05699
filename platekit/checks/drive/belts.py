"""Whether a belt between motor and output bears its pull."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.drive.belting import Run
from platekit.checks.drive.driven import Driven, three
from platekit.checks.drive.each import PLAIN, each
from platekit.checks.weighing import ADVICE, untold, weighed
from platekit.findings import Finding
from platekit.formulas.belt_forces import (
    FULL_MESH_TEETH,
    NO_MESH_TEETH,
    BeltPulls,
    belt_pulls,
    effective_pull_n,
    mesh_factor,
    needed_width_mm,
    pulls_at_static,
)

BELT = "drive.belt"
MESH_SOURCE = "ISO 5295, from memory"


def _belt(driven: Driven) -> Iterator[Finding]:
    for name in driven.belts.lost:
        yield untold(
            BELT,
            part=driven.name,
            feature=name,
            measure="the belt runs neither from the motor's axis nor to the encoder",
            remedy="name the belts between motor and output, and the encoder it turns",
        )
    run = driven.belts.driving
    if run is None:
        return
    meshed = run.drive.teeth_in_mesh
    # Fewer are told of where the belt is drawn; here they take from the width it needs.
    if meshed >= FULL_MESH_TEETH:
        yield weighed(
            BELT,
            part=driven.name,
            feature=run.name,
            measure="teeth in mesh on the smaller pulley",
            value=meshed,
            least=FULL_MESH_TEETH,
            unit="",
            source=MESH_SOURCE,
            remedy="more teeth on the small pulley, or shafts further apart",
            scale=PLAIN,
        )
    if not driven.passed_nmm:
        return
    pull_n = effective_pull_n(driven.passed_nmm, run.driven_mm)
    yield from _width(driven, run, pull_n)
    yield from _tension(driven, run, pull_n)


def _width(driven: Driven, run: Run, pull_n: float) -> Iterator[Finding]:
    limit = driven.drive.belt_limit_n_per_mm
    if limit is None:
        yield untold(
            BELT,
            part=driven.name,
            feature=run.name,
            measure=f"pull of {three(pull_n)} N on a belt of {run.drive.width_mm:g} mm: what it "
            "bears is not said",
            remedy="give belt_limit_n_per_mm, its maker's figure at its speed",
        )
        return
    meshed = run.drive.teeth_in_mesh
    if meshed <= NO_MESH_TEETH:
        return
    width_mm = needed_width_mm(pull_n, limit_n_per_mm=limit, teeth_in_mesh=meshed)
    yield weighed(
        BELT,
        part=driven.name,
        feature=run.name,
        measure="width the belt needs",
        value=width_mm,
        most=run.drive.width_mm,
        unit="mm",
        source=f"{MESH_SOURCE}; the belt's own limit",
        formula="2 T / (d limit mesh) = load factor on T, "
        f"2 x {three(driven.passed_nmm)} / ({three(run.driven_mm)} x {three(limit)} x "
        f"{three(mesh_factor(meshed))})",
        remedy=f"a belt of {three(width_mm)} mm or more, larger pulleys, or a larger pitch",
        scale=PLAIN,
    )


def _tension(driven: Driven, run: Run, pull_n: float) -> Iterator[Finding]:
    """Weigh the pull the belt is set to, and what it puts across the motor's shaft."""
    static_n = driven.drive.belt_pull_n
    if static_n is not None:
        yield weighed(
            BELT,
            part=driven.name,
            feature=run.name,
            measure="pull of each span at rest",
            value=static_n,
            least=pull_n / 2,
            unit="N",
            source="both spans stretch alike; statics",
            formula=f"half of 2 T / d = {three(pull_n)} / 2",
            remedy="the slack span goes loose and the belt jumps teeth: set it tighter",
            scale=ADVICE,
        )
    bears_n = driven.rating.gear_radial_n
    if not run.on_motor or bears_n is None:
        return
    pulls = _pulls(pull_n, static_n)
    load_n = pulls.shaft_load_n(run.driver_wrap_deg)
    yield weighed(
        BELT,
        part=driven.drive.motor,
        feature=run.name,
        measure="force of the belt across the motor's shaft",
        value=load_n,
        most=bears_n,
        unit="N",
        source="triangle of forces; the sheet of motor or gearbox",
        formula=f"root of T1^2 + T2^2 - 2 T1 T2 cos wrap, T1 {three(pulls.tight_n)} N, T2 "
        f"{three(pulls.slack_n)} N, wrap {three(run.driver_wrap_deg)} degrees, set to "
        f"{three(pulls.static_n)} N",
        remedy="a larger pulley on the motor, or a shaft in bearings of its own and a coupling",
        scale=PLAIN,
    )


def _pulls(pull_n: float, static_n: float | None) -> BeltPulls:
    """Return the pulls of both spans, set as given, or as is usual; never loose."""
    if static_n is None or static_n < pull_n / 2:
        return belt_pulls(pull_n)
    return pulls_at_static(pull_n, static_n=static_n)


CHECKS = (
    Check(
        name=BELT,
        asks="Does the belt between motor and output bear its pull?",
        by="Effective pull 2 T / d at the driven pulley, T with the load factor; width by the "
        "belt's limit for each mm and the teeth in mesh (form of " + MESH_SOURCE + "), service "
        "factor 1; at rest each span at least half that pull. Pulls of both spans across the "
        "motor's shaft; where nobody says how tight, tight over slack is 8 (common practice, no "
        "source). A belt to an encoder carries next to nothing and is not weighed.",
        run=each(BELT, _belt),
    ),
)
