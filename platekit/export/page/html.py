"""The build page as one HTML file: template, style and scripts of our own put together.

Nothing in it leads out: a content policy in its head forbids the browser to fetch anything at all,
and only the styles and scripts whose hashes it names may work.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from importlib import resources

from platekit.export.markup import escaped
from platekit.version import VERSION

# In the order in which they stand on each other.
SCRIPTS = (
    "make.js",
    "theme.js",
    "vectors.js",
    "meshes.js",
    "stage.js",
    "hands.js",
    "rig.js",
    "saving.js",
    "lists.js",
    "parts.js",
    "steps.js",
    "page.js",
)
STYLES = ("page.css",)
TEMPLATE = "page.html"
# What the head of every page of ours holds, and by which one is known again.
MARK = '<meta name="generator" content="platekit '


def page_html(
    content: Mapping[str, object],
    *,
    styles: Sequence[str] = (),
    scripts: Sequence[str] = (),
    connects: bool = False,
) -> str:
    """Return the page that shows `content`; the same content gives the same text.

    Args:
        content: What `platekit.export.page.content.content` returns.
        styles: More style sheets, each as text, after the page's own.
        scripts: More scripts, each as text, after the page's own. They find ``buildPage.show`` and
            an empty ``#more`` at the head of the page, where they may put what they add.
        connects: Whether scripts may talk to the server the page came from.
    """
    all_styles = [*map(_own, STYLES), *styles]
    all_scripts = [*map(_own, SCRIPTS), *scripts]
    policy = "; ".join(
        [
            "default-src 'none'",
            f"script-src {_hashes(all_scripts)}",
            f"style-src {_hashes(all_styles)}",
            "img-src data:",
            f"connect-src {_sources(connects=connects)}",
            "base-uri 'none'",
            "form-action 'none'",
        ]
    )
    slots = {
        "policy": escaped(policy),
        "version": escaped(VERSION),
        "title": escaped(str(content.get("title", ""))),
        "styles": "\n".join(f"<style>{text}</style>" for text in all_styles),
        "content": json_in_html(content),
        "scripts": "\n".join(f"<script>{text}</script>" for text in all_scripts),
    }
    # Cut once and joined: what is put in is never searched for slots again.
    pieces = _own(TEMPLATE).split("@@")
    return "".join(slots[piece] if number % 2 else piece for number, piece in enumerate(pieces))


def json_in_html(value: object) -> str:
    r"""Return JSON text that may stand inside a script element: no sign in it ends one.

    Example:
        >>> json_in_html("</script><!--")
        '"\\u003c/script\\u003e\\u003c!--"'
    """
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return text


def _sources(*, connects: bool) -> str:
    return "'self'" if connects else "'none'"


def _hashes(texts: Iterable[str]) -> str:
    hashed = (hashlib.sha256(text.encode()).digest() for text in texts)
    return " ".join(f"'sha256-{base64.b64encode(one).decode('ascii')}'" for one in hashed)


def _own(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")
