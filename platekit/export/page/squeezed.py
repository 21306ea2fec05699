"""What is squeezed for the page: what is drawn with many words takes a quarter of the room."""

from __future__ import annotations

import base64
import gzip
import re


def squeezed(text: str) -> dict[str, str] | None:
    """Return a text as gzip (RFC 1952) in base64, without a date; None for an empty one."""
    return squeezed_bytes(text.encode()) if text else None


def squeezed_drawing(svg: str) -> dict[str, object] | None:
    """Return the text of an SVG file squeezed, with its width and height; None for an empty one.

    The page keeps room for a drawing before it is undone, so that nothing jumps.
    """
    packed = squeezed(svg)
    if packed is None:
        return None
    size = re.search(r'<svg[^>]* width="([\d.]+)" height="([\d.]+)"', svg)
    return {**packed, "size": None if size is None else [float(size[1]), float(size[2])]}


def squeezed_bytes(data: bytes, *, level: int = 9) -> dict[str, str]:
    """Return bytes as gzip (RFC 1952) in base64, without a date."""
    packed = gzip.compress(data, compresslevel=level, mtime=0)
    return {"gzip": base64.b64encode(packed).decode("ascii")}
