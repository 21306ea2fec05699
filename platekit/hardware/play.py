"""Play: how much wider than a bought part its hole in a plate is, on diameter."""

from __future__ import annotations

# A spigot slides into its bore by hand on a laser-cut edge; common practice, no source.
PILOT_CLEARANCE_MM = 0.2
# A turning shaft must not touch a plate that is not its bearing; common practice, no source.
SHAFT_CLEARANCE_MM = 2.0
