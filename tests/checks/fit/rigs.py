"""Small rigs that the checks of fit are put to."""

from platekit.assembly import Assembly, lying, standing
from platekit.checks.subject import Subject
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.plate import Plate

MEASURED = birch_plywood(6.0, thickness_mm=6.1)


def subject(assembly: Assembly, **asked) -> Subject:
    """Return a job of one assembly."""
    return Subject(pieces=(), whole=(assembly, assembly.resolve()), **asked)


def tee(*joints, sheet=MEASURED, length=200.0):
    """Return a floor and a wall that stands on its middle."""
    return (
        Assembly("tee")
        .with_panels(
            lying(Plate("floor", sheet, rectangle(length, 120.0))),
            standing(
                Plate("wall", sheet, rectangle(length - 40.0, 80.0)),
                facing="front",
                front_mm=50.0,
                left_mm=20.0,
            ),
        )
        .with_joints(*joints)
    )


def corner(*joints, sheet=MEASURED, length=200.0):
    """Return a floor and a wall on its front edge."""
    return (
        Assembly("corner")
        .with_panels(
            lying(Plate("floor", sheet, rectangle(length, 120.0))),
            standing(Plate("wall", sheet, rectangle(length, 80.0)), facing="front"),
        )
        .with_joints(*joints)
    )
