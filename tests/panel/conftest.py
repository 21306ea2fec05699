"""What the panel tests share: a sheet and a plain plate."""

import pytest

from platekit.geometry.shapes import rectangle
from platekit.materials import Sheet, sheet
from platekit.panel.plate import Plate


@pytest.fixture(scope="session")
def plywood() -> Sheet:
    """Birch plywood, 6 mm."""
    return sheet("birch plywood", nominal_mm=6)


@pytest.fixture
def base(plywood: Sheet) -> Plate:
    """A bare plate of 140 x 110 mm, lower left corner at (0, 0)."""
    return Plate("base", plywood, rectangle(140, 110, fillet_mm=8))
