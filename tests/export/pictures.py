"""Pictures by programs that know nothing of us, and their pixels."""

import shutil
import struct
import subprocess
import zlib

import numpy as np
import pytest

needs_rsvg = pytest.mark.skipif(
    shutil.which("rsvg-convert") is None, reason="rsvg-convert is not installed"
)


def rendered(svg, folder, *, dots_per_inch=254):
    """Return the picture rsvg makes of `svg` on white, uint8 of shape (height, width, 3)."""
    source, target = folder / "picture.svg", folder / "picture.png"
    source.write_text(svg, encoding="utf-8")
    dots = str(dots_per_inch)
    subprocess.run(
        ["rsvg-convert", "-d", dots, "-p", dots, "-b", "white", "-o", target, source],
        check=True,
        capture_output=True,
    )
    return read_png(target.read_bytes())[:, :, :3]


def read_png(data):
    """Return the pixels of an 8-bit colour PNG (ISO/IEC 15948), shape (height, width, channels)."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at, packed = 8, b""
    while at < len(data):
        length, kind = struct.unpack(">I4s", data[at : at + 8])
        body = data[at + 8 : at + 8 + length]
        if kind == b"IHDR":
            width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", body)
            assert (depth, interlaced) == (8, 0)
            channels = {2: 3, 6: 4}[colour]
        elif kind == b"IDAT":
            packed += body
        at += 12 + length
    rows = np.frombuffer(zlib.decompress(packed), np.uint8).reshape(height, 1 + width * channels)
    pixels = np.zeros((height, width, channels), np.uint8)
    above = np.zeros((width, channels), np.uint8)
    for k, row in enumerate(rows):
        above = _unfiltered(int(row[0]), row[1:].reshape(width, channels), above)
        pixels[k] = above
    return pixels


def _unfiltered(kind, row, above):
    """Undo one of the five row filters of the standard, section 9."""
    if kind == 0:
        return row
    if kind == 1:
        return np.cumsum(row, axis=0, dtype=np.uint8)
    if kind == 2:
        return row + above
    done = np.zeros_like(row)
    left = corner = np.zeros(row.shape[1], int)
    for k in range(len(row)):
        up = above[k].astype(int)
        if kind == 3:
            guess = (left + up) // 2
        else:
            rest = left + up - corner
            gaps = np.stack([abs(rest - left), abs(rest - up), abs(rest - corner)])
            guess = np.choose(np.argmin(gaps, axis=0), [left, up, corner])
        done[k] = (row[k] + guess) % 256
        left, corner = done[k].astype(int), up
    return done


def where_drawn(pixels, colour):
    """Return (left, top, right, bottom) pixel bounds of strokes of `colour` (#rrggbb) on white.

    A stroke thinner than a pixel is mixed with white, so hue decides: the pixel must lie on the
    line from white to the colour, well away from white.
    """
    ink = 255.0 - np.frombuffer(bytes.fromhex(colour[1:]), np.uint8)
    paper = 255.0 - pixels.astype(float)
    share = paper @ ink / (ink @ ink)
    off = np.linalg.norm(paper - share[..., None] * ink, axis=2)
    rows, columns = np.nonzero((share > 0.2) & (off < 12))
    return columns.min(), rows.min(), columns.max(), rows.max()
