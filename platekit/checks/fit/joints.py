"""Whether joints go together, and whether they then hold still."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from platekit.assembly.loads import Factors
from platekit.assembly.made import Made
from platekit.checks.fit.alike import ENDS_ONLY, Alike, alike_of, lots_of, thickness_half_mm
from platekit.checks.fit.lots import Lots
from platekit.checks.fit.shares import PERCENT, STILL, TOGETHER, as_note, named, share_found
from platekit.checks.subject import Subject
from platekit.findings import Finding, Severity
from platekit.materials import Hold, Sheet, thickness_bands

STEP_MM = 0.01  # finer than any fit is told
FILED_MM = 0.1  # a few strokes of a file take as much; common practice, no source

HOLDS = {
    Hold.GLUED: "share whose gaps the glue fills",
    Hold.SLIP: "share that does not rattle",
    Hold.PRESS: "share that grips",
}


def go_together(subject: Subject) -> Iterator[Finding]:
    """Weigh the share of joints that go together, worst first."""
    yield from _worst_first(
        _share(joint, made, subject, still=False) for joint, made in alike_of(subject).items()
    )


def hold_still(subject: Subject) -> Iterator[Finding]:
    """Weigh the share of joints that do not rattle, worst first; screws draw theirs together."""
    yield from _worst_first(
        _share(joint, made, subject, still=True)
        for joint, made in alike_of(subject).items()
        if joint.kind != "screwed"
    )


def as_bought(subject: Subject) -> Iterator[Finding]:
    """Say of every sheet not measured what it may measure, and what becomes of its joints then."""
    groups = alike_of(subject)
    grips: dict[Sheet, list[Alike]] = {}
    for joint in groups:
        sheets = {*joint.one, *(joint.other if joint.kind == "halving" else ())}
        for sheet in sheets if joint.kind not in ENDS_ONLY else ():
            if sheet.thickness_mm == sheet.nominal_mm:
                grips.setdefault(sheet, []).append(joint)
    for sheet, joints in grips.items():
        yield _unmeasured(sheet, joints, groups, subject)


def _share(joint: Alike, made: Sequence[Made], subject: Subject, *, still: bool) -> Finding:
    wanted = _factors(subject).fit
    lots = lots_of(joint, draws=subject.draws, seed=subject.seed)
    at = joint.clearance_mm
    share = lots.still(at) if still else lots.together(at)
    found = share_found(
        "fit.rattle" if still else "fit.joint",
        part=" + ".join(made[0].between),
        feature=named(joint.words, [" + ".join(one.between) for one in made[1:]]),
        measure=HOLDS[joint.hold] if still else "share that goes together",
        share=share,
        wanted=wanted,
        draws=subject.draws,
        remedy=_remedy(joint, lots, wanted),
        formula=_formula(joint, lots, share, subject.draws, still=still),
        scale=STILL if still or not _wasted(joint, lots, wanted) else TOGETHER,
    )
    if found.severity is Severity.WARNING and _by_a_hair(joint, lots, wanted, still=still):
        return replace(found, severity=Severity.NOTE)
    return found


def _by_a_hair(joint: Alike, lots: Lots, wanted: float, *, still: bool) -> bool:
    """Return whether a clearance misses what it should be by less than the kerf is known to."""
    least, most = lots.window_mm(wanted)
    short = joint.clearance_mm - most if still else least - joint.clearance_mm
    return short <= joint.scatter.kerf_mm


def _wasted(joint: Alike, lots: Lots, wanted: float) -> bool:
    """Return whether hardly one would go together driven hard and eased with a file."""
    eased = joint.clearance_mm + joint.scatter.pressed_mm + FILED_MM + lots.least_mm
    return lots.together(eased) < TOGETHER.stop * wanted


def _worst_first(findings: Iterator[Finding]) -> list[Finding]:
    return sorted(findings, key=lambda one: math.inf if one.margin is None else one.margin)


def _factors(subject: Subject) -> Factors:
    return Factors() if subject.whole is None else subject.whole[0].use.factors


def _remedy(joint: Alike, lots: Lots, wanted: float) -> str:
    """Return the clearance with which a wanted share goes together and holds still."""
    least, most = lots.window_mm(wanted)
    if joint.kind == "screwed":
        most = math.inf if least > most else most
    if least <= most:
        good = (least + most) / 2 if math.isfinite(most) else least + STEP_MM
        low, high = math.ceil(least / STEP_MM) * STEP_MM, math.floor(most / STEP_MM) * STEP_MM
        if low <= joint.clearance_mm <= high:
            return f"clearance_mm from {low:.2f} to {high:.2f} does"
        if low <= high:  # no more change than it takes
            good = min(max(joint.clearance_mm, low), high)
        return (
            f"give clearance_mm={good:.2f} (from {low:.2f} to {high:.2f} does), or cut a test joint"
        )
    fewer = "fewer tabs, or " if joint.places > 2 and joint.kind != "halving" else ""
    return (
        f"{PERCENT * wanted:.4g} % need {least:.2f} mm to go together and at most {most:.2f} mm "
        f"to hold still: no clearance gives both; {fewer}cut a test joint and take its clearance"
    )


def _formula(joint: Alike, lots: Lots, share: float, draws: int, *, still: bool) -> str:
    """Return what was drawn, and how sure the share is."""
    scatter = joint.scatter
    kerfs = (
        f"{joint.clearance_mm:g} + 2 x kerf +-{scatter.kerf_mm:g}"
        if joint.kind in ENDS_ONLY
        else f"{joint.clearance_mm:g} + kerf +-{scatter.kerf_mm:g} "
        f"- sheet +-{thickness_half_mm(joint.one):.3g}"
    )
    ranged = joint.places > 1 and not (still and joint.hold is Hold.GLUED)
    spread = f" - range of {joint.places} places +-{scatter.pitch_mm:g}" if ranged else ""
    limit = f"<= {lots.most_mm:g}" if still else f">= {lots.least_mm:g}"
    error = PERCENT * math.sqrt(share * (1.0 - share) / draws)
    return f"{kerfs}{spread} {limit} in {draws} drawn, +-{error:.2g} %"


def _unmeasured(
    sheet: Sheet, joints: Sequence[Alike], groups: dict[Alike, list[Made]], subject: Subject
) -> Finding:
    """Return the note that a sheet is not measured, with the share of its joints as bought."""
    band = thickness_bands(sheet.material.tolerance, nominal_mm=sheet.nominal_mm)[0]
    low, high = band.limits_mm(sheet.nominal_mm)
    beyond = (low - sheet.nominal_mm, high - sheet.nominal_mm)
    count = sum(len(groups[joint]) for joint in joints)
    fits = sum(
        len(groups[joint])
        * lots_of(joint, draws=subject.draws, seed=subject.seed, bought_mm=beyond).together(
            joint.clearance_mm
        )
        for joint in joints
    )
    found = share_found(
        "fit.sheet",
        part=sheet.name,
        feature="",
        measure=f"not measured, may be {low:.2f} to {high:.2f} mm; share of its joints that "
        "would go together",
        share=fits / count,
        wanted=_factors(subject).fit,
        draws=subject.draws,
        remedy="measure the sheet in three places and give thickness_mm; nothing to do where it "
        f"measures {sheet.thickness_mm:g} mm",
        formula=f"thickness even from {low:.2f} to {high:.2f}, "
        + ("1 joint that grips it" if count == 1 else f"{count} joints that grip it"),
    )
    # What is missing is a figure, and nothing is wrong yet.
    return as_note(replace(found, source=f"{band.standard}, {band.surface}: {band.source}"))
