"""Breaking a text into lines, whatever it is set in."""

from __future__ import annotations

from collections.abc import Callable


def broken_into(text: str, fits: Callable[[str], bool]) -> tuple[str, ...]:
    """Return `text` as lines that fit, broken at spaces where that will do.

    A word too long for a line of its own is broken anywhere; a line has one letter at least. A
    space that must not break holds what stands beside it together.

    Args:
        text: What to break.
        fits: Whether a line is short enough.
    """
    lines: list[str] = []
    line = ""
    for word in filter(None, text.split(" ")):
        rest = word
        if line and fits(f"{line} {rest}"):
            line = f"{line} {rest}"
            continue
        if line:
            lines.append(line)
        while not fits(rest):
            head = next((n for n in range(len(rest) - 1, 0, -1) if fits(rest[:n])), 1)
            if head == len(rest):
                break
            lines.append(rest[:head])
            rest = rest[head:]
        line = rest
    return (*lines, line) if line else tuple(lines)
