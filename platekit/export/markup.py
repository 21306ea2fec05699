"""Text as XML may carry it."""

from __future__ import annotations

import html
import re

_NOT_XML = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufffe\uffff]+")


def escaped(text: str) -> str:
    """Return `text` as XML may carry it: signs escaped, what XML forbids made a space.

    Example:
        >>> escaped('5 < 6 & "so on"')
        '5 &lt; 6 &amp; &quot;so on&quot;'
    """
    return html.escape(_NOT_XML.sub(" ", text), quote=True)
