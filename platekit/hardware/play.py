"""Play: how much wider than a bought part its hole in a plate is, on diameter."""

from __future__ import annotations

# A spigot slides into its bore by hand on a laser-cut edge; common practice, no source.
PILOT_CLEARANCE_MM = 0.2
# A turning shaft must not touch a plate that is not its bearing; common practice, no source.
SHAFT_CLEARANCE_MM = 2.0
# A head with its washer, or a key, goes in and out by hand; common practice, no source.
ACCESS_CLEARANCE_MM = 1.0
# A body that passes a plate is put in by hand; common practice, no source.
BODY_CLEARANCE_MM = 1.0
# The nut drops in by hand and its flats still hold; common practice, no source.
NUT_PLAY_MM = 0.2
