"""What the checks take where nobody says otherwise."""

from __future__ import annotations

# So many joints are drawn by lot where chance decides; what the estimate is worth is said with it.
DRAWS = 10_000
# Cells of a honeycomb bed, from wall to wall: common practice, no source. Slats stand wider apart.
GRID_MM = 10.0
# A bed's grid is somewhere between; anything else is a slip of the keyboard.
LEAST_GRID_MM, MOST_GRID_MM = 1.0, 500.0
