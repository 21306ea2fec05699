"""Pieces of HTML: tables and pictures for pages that are not ours, a notebook's say."""

from __future__ import annotations

import base64
from collections.abc import Iterable, Sequence

from platekit.export.markup import escaped

# More rows than this nobody reads among other things; the files of a run have them all.
MOST_ROWS = 40
# Notebooks set figures of tables to the right, texts as well.
_LEFT = 'style="text-align:left"'


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table; empty where it would have no rows. What is beyond 40 rows is counted.

    Args:
        caption: What it is about.
        heads: What its columns are.
        rows: A text for each column.
    """
    listed = list(rows)
    if not listed:
        return ""
    head = "".join(f'<th scope="col" {_LEFT}>{escaped(one)}</th>' for one in heads)
    shown = [
        f"<tr>{''.join(f'<td {_LEFT}>{escaped(cell)}</td>' for cell in row)}</tr>"
        for row in listed[:MOST_ROWS]
    ]
    if len(listed) > MOST_ROWS:
        rest = f"and {len(listed) - MOST_ROWS} more"
        shown.append(f'<tr><td colspan="{len(heads)}">{rest}</td></tr>')
    return (
        f"<table><caption>{escaped(caption)}</caption><thead><tr>{head}</tr></thead>"
        f"<tbody>{''.join(shown)}</tbody></table>"
    )


def paragraph(text: str) -> str:
    """Return a paragraph."""
    return f"<p>{escaped(text)}</p>"


def image(svg: str, *, says: str) -> str:
    """Return an SVG picture as an image of its own.

    Names inside one drawing do not reach another on the same page that way.

    Args:
        svg: The text of an SVG file.
        says: What it shows, for whoever cannot see it.
    """
    coded = base64.b64encode(svg.encode()).decode()
    return (
        f'<img alt="{escaped(says)}" style="max-width:100%" '
        f'src="data:image/svg+xml;base64,{coded}"/>'
    )
