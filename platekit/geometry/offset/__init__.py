"""Offset: grow or shrink a profile, exactly, and say what was lost on the way.

`offsetting` is the way in. It asks the quick engine first (`rows` moved, then `trim`); `proof`
judges what that made; `careful` takes what is in doubt and weaves the ring anew (`weave`).
"""

from platekit.geometry.offset.losses import Loss, LossKind
from platekit.geometry.offset.offsetting import Join, OffsetResult, offset, offset_rings

__all__ = ["Join", "Loss", "LossKind", "OffsetResult", "offset", "offset_rings"]
