"""How finely the output's angle is told, and how much it plays."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.drive.driven import Driven, three
from platekit.checks.drive.each import each
from platekit.checks.weighing import ADVICE, untold, weighed
from platekit.findings import Finding
from platekit.formulas.encoder_counts import (
    EDGES_PER_LINE,
    count_rate_hz,
    counts_of_bits,
    counts_per_turn,
    lines_for_resolution,
    resolution_deg,
)

ENCODER, BACKLASH = "drive.encoder", "drive.backlash"
SOURCE = "four counts for each line (quadrature), 2^n for n bits; definition"


def _encoder(driven: Driven) -> Iterator[Finding]:
    drive, told = driven.drive, driven.encoder
    if told is None:
        if drive.resolution_deg is not None:
            yield untold(
                ENCODER,
                part=driven.name,
                measure="how finely its angle is told is not said",
                remedy="name the encoder, and give it rating=encoder_rating(lines=...)",
            )
        return
    ratio = driven.belts.encoder_ratio
    if told.lines:
        counts = counts_per_turn(told.lines, ratio=ratio)
        said = f"{EDGES_PER_LINE} x {told.lines} x {three(ratio)}"
    else:
        counts = counts_of_bits(told.bits, ratio=ratio)
        said = f"2^{told.bits} x {three(ratio)}"
    built_in = not isinstance(drive.encoder, str)
    part = drive.encoder if isinstance(drive.encoder, str) else drive.motor
    if built_in and drive.encoder_ratio is None and driven.train.ratio != 1.0:
        yield untold(
            ENCODER,
            part=part,
            measure="how often its built-in encoder turns is not said, and taken as once for one "
            "turn of the output",
            remedy=f"give encoder_ratio: {three(driven.train.ratio)} where it sits on the rotor, 1 "
            "where it turns with the output",
        )
    finer = "" if built_in else ", or turn the encoder faster by its belt"
    if drive.resolution_deg is not None:
        lines = lines_for_resolution(wanted_deg=drive.resolution_deg, ratio=ratio)
        yield weighed(
            ENCODER,
            part=part,
            measure="angle of one count at the output",
            value=resolution_deg(counts),
            most=drive.resolution_deg,
            unit="deg",
            source=SOURCE,
            formula=f"360 / ({said})",
            remedy=f"take at least {lines} lines{finer}",
            scale=ADVICE,
        )
    if told.most_hz is not None and drive.speed_rpm is not None:
        yield weighed(
            ENCODER,
            part=part,
            measure="counts in a second",
            value=count_rate_hz(counts, speed_rpm=drive.speed_rpm),
            most=told.most_hz,
            unit="Hz",
            source="the encoder's sheet, or that of what reads it",
            formula=f"counts n / 60 = {three(counts)} x {three(drive.speed_rpm)} / 60",
            remedy="fewer lines, a slower output, or a faster counter",
            scale=ADVICE,
        )


def _backlash(driven: Driven) -> Iterator[Finding]:
    wanted, rating = driven.drive.backlash_deg, driven.rating
    if wanted is None:
        return
    if rating.backlash_deg is None and rating.gear_ratio != 1.0:
        yield untold(
            BACKLASH,
            part=driven.name,
            measure="play of the gearbox is not said",
            remedy="give backlash_deg of the motor's rating",
        )
        return
    belt = driven.belts.stage(driven.drive.belt_play_mm)
    own, further = driven.gearbox.backlash_deg, 1.0 if belt is None else belt.ratio
    added = 0.0 if belt is None else belt.backlash_deg
    yield weighed(
        BACKLASH,
        part=driven.name,
        measure="play of the output",
        value=driven.train.backlash_deg,
        most=wanted,
        unit="deg",
        source="plays added, each over the ratios behind it; kinematics of a train, derived",
        formula=f"gearbox / belt's ratio + belt = {three(own)} / {three(further)} + {three(added)}",
        remedy="a gearbox of less play, a belt with a ratio behind it, or a load that always "
        "leans one way",
        scale=ADVICE,
    )


CHECKS = (
    Check(
        name=ENCODER,
        asks="Is the angle told finely enough, and can the counts be counted?",
        by="360 over the counts of one turn of the output, through the belt to the encoder, or "
        "by encoder_ratio where it is built into the motor; counts in a second at the speed "
        "wanted. " + SOURCE + ".",
        run=each(ENCODER, _encoder),
    ),
    Check(
        name=BACKLASH,
        asks="Does the output play too much?",
        by="Play of the gearbox over the ratio of the belt behind it, and the belt's own; worst "
        "case, added. Keys, couplings and bending of shafts are not in it.",
        run=each(BACKLASH, _backlash),
    ),
)
