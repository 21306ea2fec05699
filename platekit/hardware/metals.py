"""What tapped holes are cut in."""

from __future__ import annotations

from typing import Literal

Metal = Literal["steel", "aluminium", "brass", "plastic"]
