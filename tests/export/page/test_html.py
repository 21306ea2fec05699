"""The page as a file, read by the standard library's own parser of HTML."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from html.parser import HTMLParser

import pytest

from platekit.export.page.content import content
from platekit.export.page.html import json_in_html
from platekit.job.paging import page_text
from tests.export.page.conftest import HOSTILE


class Reader(HTMLParser):
    """Elements with their attributes, and the text of each script and style."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict]] = []
        self.raw: list[tuple[str, dict, str]] = []
        self.inside = False

    def handle_starttag(self, tag, attrs):  # noqa: D102
        self.elements.append((tag, dict(attrs)))
        self.inside = tag in {"script", "style"}
        if self.inside:
            self.raw.append((tag, dict(attrs), ""))

    def handle_endtag(self, tag):  # noqa: ARG002, D102
        self.inside = False

    def handle_data(self, data):  # noqa: D102
        if self.inside:
            tag, attrs, text = self.raw[-1]
            self.raw[-1] = (tag, attrs, text + data)


@pytest.fixture(scope="module")
def text(written) -> str:
    """The page's text."""
    return written.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def read(text) -> Reader:
    """The page, read."""
    reader = Reader()
    reader.feed(text)
    return reader


def test_the_same_run_gives_the_same_bytes(page, text):
    """No dates, no places, no chance."""
    assert page_text(page) == text


def test_nothing_leads_out(text, read):
    """No element fetches anything; the only address is the name of SVG's own space."""
    assert set(re.findall(r"https?://[^\s\"'<]+", text)) <= {"http://www.w3.org/2000/svg"}
    for tag, given in read.elements:
        assert not {"src", "srcset", "data", "action", "formaction", "style"} & set(given), tag
        assert tag not in {"link", "iframe", "object", "embed", "base"}
        assert given.get("href", "#").startswith("#")
        assert not [name for name in given if name.startswith("on")], tag


def test_the_policy_names_every_script_and_style(read):
    """Hashes as Content Security Policy Level 3 asks: SHA-256 of the text, in base64."""
    policy = next(
        given["content"]
        for tag, given in read.elements
        if tag == "meta" and given.get("http-equiv") == "Content-Security-Policy"
    )
    assert "default-src 'none'" in policy
    assert "connect-src 'none'" in policy
    working = [(tag, body) for tag, given, body in read.raw if given.get("type") is None]
    assert {tag for tag, _ in working} == {"script", "style"}
    for tag, body in working:
        digest = base64.b64encode(hashlib.sha256(body.encode()).digest()).decode()
        rules = next(rule for rule in policy.split(";") if rule.strip().startswith(f"{tag}-src"))
        assert f"'sha256-{digest}'" in rules


def test_hostile_text_comes_back_as_it_was(page, read):
    """The parser finds one block of data, and in it every sign of what was said."""
    blocks = [body for _, given, body in read.raw if given.get("type") == "application/json"]
    assert len(blocks) == 1
    said = json.loads(blocks[0])
    assert said == json.loads(json.dumps(content(page)))
    assert HOSTILE in {one["measure"] for one in said["findings"]}


@pytest.mark.parametrize("hostile", ["</script>", "<!--<script>", "]]>", "\u2028", "&lt;"])
def test_data_ends_no_script(hostile):
    """WHATWG HTML, restrictions for contents of script elements: no "<" is left in them."""
    written = json_in_html({"a": hostile})
    assert "<" not in written
    assert json.loads(written) == {"a": hostile}


def test_labels_and_ids_meet(read):
    """Every id once; what is described or labelled by an id has one to go to."""
    ids = [given["id"] for _, given in read.elements if "id" in given]
    assert len(ids) == len(set(ids))
    for _, given in read.elements:
        for name in ("for", "aria-labelledby", "aria-describedby"):
            assert given.get(name, ids[0]) in ids
    assert ("html", {"lang": "en"}) in read.elements
