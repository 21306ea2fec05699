"""The name on a part and the arrow along its grain, where the part has room for them."""

from __future__ import annotations

from collections.abc import Sequence

from platekit.findings import Finding, Severity
from platekit.geometry.chains import Chain, Path, polyline
from platekit.geometry.freespots import FreeSpots
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.panel.lettering import centred_text, text_width_mm
from platekit.panel.part import Grain, Mark

# From easy to read at arm's length down to the least that stays legible when scored; tried on
# drawings only, common practice, no source.
HEIGHTS_MM = (6.0, 5.0, 4.0, 3.0, 2.5)
MARGIN_MM = 2.0  # between lettering and every cut: scorch marks and chips spread
ARROW_MM = 14.0
ARROW_HEAD_MM = 3.0


def name_marks(
    profile: Profile, name: str, *, marks: Sequence[Mark] = (), grain: Grain = Grain.ANY
) -> tuple[tuple[Mark, ...], tuple[Finding, ...]]:
    """Return the scored name of a finished part and the arrow along its grain.

    Lettering shrinks until it fits, lies level or reads upwards, and keeps off every hole, edge
    and mark.

    Args:
        profile: The part with all its holes and joints.
        name: What to write; empty for nothing.
        marks: What is marked on it already.
        grain: An arrow is drawn unless it is ANY.

    Returns:
        The marks, and a finding where one found no room.
    """
    taken: list[Chain] = [mark.path for mark in marks]
    made: list[Mark] = []
    said: list[Finding] = []
    if name:
        written = _name(profile, name, taken)
        made += [Mark(path, is_name=True) for path in written]
        taken += written
        if not written:
            said.append(_no_room(name, "the name", f"{HEIGHTS_MM[-1]:g} mm letters"))
    if grain is not Grain.ANY:
        arrow = _arrow(profile, taken, turn_deg=0.0 if grain is Grain.ALONG_X else 90.0)
        made += [Mark(path) for path in arrow]
        if not arrow:
            said.append(_no_room(name, "the grain arrow", f"a {ARROW_MM / 2:g} mm arrow"))
    return tuple(made), tuple(said)


def _name(profile: Profile, name: str, taken: Sequence[Chain]) -> tuple[Path, ...]:
    spots = FreeSpots(profile, keep_clear=taken)
    to = profile.bounds.centre
    for height in HEIGHTS_MM:
        width = text_width_mm(name, height_mm=height)
        for turn_deg in (0.0, 90.0):
            across, up = (width, height) if turn_deg == 0.0 else (height, width)
            at = spots.nearest(to, width_mm=across, height_mm=up, margin_mm=MARGIN_MM)
            if at is not None:
                return centred_text(name, height_mm=height, turn_deg=turn_deg, at=at)
    return ()


def _arrow(profile: Profile, taken: Sequence[Chain], *, turn_deg: float) -> tuple[Path, ...]:
    spots = FreeSpots(profile, keep_clear=taken)
    for length in (ARROW_MM, ARROW_MM / 2):
        head = ARROW_HEAD_MM * length / ARROW_MM
        across, up = (length, head) if turn_deg == 0.0 else (head, length)
        corner = Point(profile.bounds.left, profile.bounds.top)
        at = spots.nearest(corner, width_mm=across, height_mm=up, margin_mm=MARGIN_MM)
        if at is not None:
            to_spot = Motion(turn_deg=turn_deg).then(Motion(dx_mm=at.x, dy_mm=at.y))
            return tuple(path.moved(to_spot) for path in double_arrow(length, head_mm=head))
    return ()


def double_arrow(length_mm: float, *, head_mm: float) -> tuple[Path, ...]:
    """Return a level arrow with a head at both ends, its middle at (0, 0).

    Grain has no sense of direction, so neither has its arrow.
    """
    tip, back = length_mm / 2, length_mm / 2 - head_mm
    return (
        polyline([(-tip, 0.0), (tip, 0.0)]),
        polyline([(back, head_mm / 2), (tip, 0.0), (back, -head_mm / 2)]),
        polyline([(-back, head_mm / 2), (-tip, 0.0), (-back, -head_mm / 2)]),
    )


def _no_room(part: str, what: str, least: str) -> Finding:
    return Finding(
        severity=Severity.NOTE,
        part=part,
        measure=f"no room for {what}, not even for {least}",
        source="common practice, no source",
        remedy="write it by hand, or leave more plain material",
        check="made.text",
    )
