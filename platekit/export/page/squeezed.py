"""Drawings squeezed for the page: what is drawn with many words takes a quarter of the room."""

from __future__ import annotations

import base64
import gzip


def squeezed(text: str) -> dict[str, str] | None:
    """Return a text as gzip (RFC 1952) in base64, without a date; None for an empty one."""
    if not text:
        return None
    packed = gzip.compress(text.encode(), compresslevel=9, mtime=0)
    return {"gzip": base64.b64encode(packed).decode("ascii")}
