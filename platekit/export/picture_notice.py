"""The picture of nothing: a page that says why there is no other."""

from __future__ import annotations

from platekit.export.captions import LINE_EM
from platekit.export.picture import INNER_PX, MARGIN_PX, TEXT_PX, heading, page, paragraph


def notice(title: str, lines: list[str]) -> str:
    """Return a page with a title and what there is to say, as the text of an SVG file.

    Args:
        title: What was to be shown.
        lines: Why it is not, and what to do about it.
    """
    body, y = heading(title, [], scale=None)
    y += LINE_EM * TEXT_PX
    for line in lines:
        more, y = paragraph(line, x_px=MARGIN_PX, y_px=y, width_px=INNER_PX)
        body += more
    return page(body, height_px=y + MARGIN_PX / 2, title=title, says=" ".join(lines))
