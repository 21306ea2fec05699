"""A rig that turns, for the tests of what turns: devices in space on one upright line."""

from __future__ import annotations

from dataclasses import replace

from platekit import (
    Assembly,
    Plate,
    ball_bearing,
    birch_plywood,
    hub,
    lying,
    motor,
    rectangle,
    shaft,
)
from platekit.assembly.frames import Frame, Vector, X, Y
from platekit.assembly.loads import Factors
from platekit.assembly.mounting import Standing
from platekit.assembly.resolve import Resolved
from platekit.checks.subject import Subject

UP = Frame(Vector(50, 40, 0), X, Y)
DOWN = Frame(Vector(50, 40, 0), X.scaled(-1.0), Y)  # n points down
PLAIN = Factors(load=1.0)


def at(frame, height_mm):
    """A frame moved up."""
    return frame.moved(Vector(0.0, 0.0, height_mm))


def put(name, device, frame, height_mm, panel="table"):
    """A device in its place."""
    return Standing(name, device, at(frame, height_mm), None, panel)


def subject(standing, *loads, factors=PLAIN, panels=(), **use):
    """A job with these devices; loads are taken as they are, without a factor."""
    plates = panels or (lying(Plate("table", birch_plywood(6.0), rectangle(300, 300))),)
    whole = Assembly("rig").with_panels(*plates)
    used = replace(whole.use, loads=loads, factors=factors, **use)
    done = Resolved((), (), (), (), panels=tuple(plates), standing=tuple(standing))
    return Subject(pieces=(), whole=(replace(whole, use=used), done))


def turned(**changed):
    """A gearbox below a table at 100 mm and a six-bolt hub whose collar grips its 14 mm shaft.

    The shaft reaches 38 mm up from the gearbox's face at 60; the collar hangs down from the
    table's face and holds it.
    """
    gearbox = motor("NEMA 34", body_length_mm=90, shaft_mm=14, shaft_length_mm=38, flange_mm=8)
    given = {
        "bore_mm": 14,
        "thickness_mm": 10,
        "collar_mm": 30,
        "length_mm": 36,
        "hold": "key",
        "key_length_mm": 28,
    }
    gripped = hub("six-bolt 70 mm M5", **{**given, **changed})
    return [put("gearbox", gearbox, DOWN, 60, "floor"), put("hub", gripped, DOWN, 100)]


def spun(*, shaft_mm=30, bore_mm=16, made_of="steel C45", bearings=(100.0, 180.0), ball="6006"):
    """A motor, a spindle on its shaft, bearings by the heights of their middles, a hub at 220."""
    gearbox = motor("NEMA 34", body_length_mm=90, shaft_mm=bore_mm, shaft_length_mm=38, flange_mm=8)
    spindle = shaft(shaft_mm, 154, socket_mm=bore_mm, socket_depth_mm=32, made_of=made_of)
    top = hub("ISO 9409-1-80-6-M8", bore_mm=shaft_mm, thickness_mm=24, hold="key")
    rings = [
        put(f"bearing {k}", ball_bearing(ball), UP, height + 6.5)
        for k, height in enumerate(bearings, 1)
    ]
    return [
        put("motor", gearbox, DOWN, 60, "floor"),
        put("spindle", spindle, UP, 66, "floor"),
        *rings,
        put("hub", top, DOWN, 220),
    ]


def found(check, job, *, part="", says=""):
    """What a check says of a part whose measure or feature has some words in it."""
    return [
        one
        for one in check(job)
        if part in one.part and (says in one.measure or says in one.feature)
    ]
