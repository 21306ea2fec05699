"""Nobody but this computer's own browser, at the page's own address, is answered."""

from __future__ import annotations

import html
import json
import socket

import pytest

from platekit.live.guard import LONGEST_BODY, own_hosts
from tests.live.conftest import HOLES


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    """One server for all of them: none may bring it down."""
    from tests.live.conftest import showing

    with showing(tmp_path_factory.mktemp("guard"), HOLES) as one:
        one.settled()
        yield one
        assert one.settled()["problem"] is None
        assert one.end() == 0
        assert "Traceback" not in "".join(one.said)


def raw(page, text: str) -> str:
    """Send bytes as they are; return what comes back before the line is closed, or all in 5 s."""
    with socket.create_connection(("127.0.0.1", page.port), timeout=5) as line:
        line.sendall(text.replace("\n", "\r\n").encode("latin-1"))
        got = b""
        try:
            while chunk := line.recv(65536):
                got += chunk
        except (TimeoutError, ConnectionResetError):
            pass  # what came before counts
    return got.decode("latin-1")


def status_of(answer: str) -> int:
    """Return the status of an answer; 0 for none."""
    return int(answer.split()[1]) if answer.startswith("HTTP/1.1 ") else 0


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "evil.example:{port}",
        "127.0.0.1",
        "127.0.0.1:1",
        "127.0.0.1.evil.example:{port}",
        "127.0.0.2:{port}",
        "[::1]:{port}",
        "0.0.0.0:{port}",
        "localhost:{port}@evil.example",
        "",
    ],
)
def test_another_name_for_the_server_is_refused(page, host):
    """A foreign name made to point here (a rebound name) is told 403, key or not."""
    status, headers, body = page.ask("GET", "", Host=host.format(port=page.port))
    assert status == 403
    assert page.key.encode() not in body
    assert headers["x-frame-options"] == "DENY"


def test_both_own_names_are_answered(page):
    """RFC 6761 lets localhost stand for the loopback address."""
    for host in own_hosts(page.port):
        assert page.ask("GET", "controls", Host=host)[0] == 200
    assert "127.0.0.1" in own_hosts(80)


@pytest.mark.parametrize(
    "origin",
    ["http://evil.example", "null", "http://127.0.0.1:1", "https://127.0.0.1:{port}", "file://"],
)
def test_another_origin_is_refused(page, origin):
    """Reading and wishing alike (RFC 6454: scheme, host and port must agree)."""
    wish = json.dumps({}).encode()
    origin = origin.format(port=page.port)
    kind = "application/json"
    assert page.ask("GET", "content", Origin=origin)[0] == 403
    assert page.ask("POST", "wish", wish, Origin=origin, Content_Type=kind)[0] == 403


def test_the_own_origin_is_answered(page):
    """As the page itself sends it."""
    own = f"http://127.0.0.1:{page.port}"
    kind = "application/json"
    assert page.ask("POST", "wish", b"{}", Origin=own, Content_Type=kind)[0] == 204


def test_what_is_fetched_from_elsewhere_is_refused_a_link_is_not(page):
    """Fetch Metadata, https://www.w3.org/TR/fetch-metadata/."""
    far = {"Sec_Fetch_Site": "cross-site"}
    assert page.ask("GET", "content", **far, Sec_Fetch_Mode="no-cors")[0] == 403
    assert page.ask("GET", "", **far, Sec_Fetch_Mode="navigate")[0] == 200


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/content",
        "/events",
        "/wrong-key/",
        "/wrong-key/content",
        "/{key}",
        "/{key}/content/",
        "/{key}/../../etc/passwd",
        "/{key}/..%2f..%2fetc%2fpasswd",
        "/{key}/%2e%2e/%2e%2e/etc/passwd",
        "/{key}//etc/passwd",
        "/{key}/base.py",
        "/{key}/live.js",
        "/{key}/content%00",
        "//evil.example/{key}/",
    ],
)
def test_no_other_path_leads_anywhere(page, path):
    """404 and no byte of any file; there is nothing to climb about in."""
    head = f"GET {path.format(key=page.key)} HTTP/1.1\nHost: 127.0.0.1:{page.port}\n"
    answer = raw(page, f"{head}Connection: close\n\n")
    assert status_of(answer) == 404, answer
    assert "root:" not in answer
    assert "def base" not in answer


@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("POST", "content"),
        ("PUT", ""),
        ("DELETE", "wish"),
        ("GET", "wish"),
        ("OPTIONS", "wish"),
        ("TRACE", ""),
        ("PROPFIND", ""),
        ("NONSENSE", "controls"),
    ],
)
def test_no_other_method_is_known(page, method, path):
    """405 (RFC 9110, section 15.5.6), OPTIONS too: no page elsewhere is given leave."""
    status, headers, _ = page.ask(method, path)
    assert status == 405
    assert not any(name.lower().startswith("access-control") for name in headers)


def test_a_long_body_is_refused_announced_or_not(page):
    """413 (RFC 9110, section 15.5.14) beyond 64 kB; below it is read and judged."""
    kind = {"Content_Type": "application/json"}
    assert page.ask("POST", "wish", b"{" + b" " * (LONGEST_BODY - 2) + b"}", **kind)[0] == 204
    assert page.ask("POST", "wish", b" " * (LONGEST_BODY + 1), **kind)[0] == 413
    head = (
        f"POST /{page.key}/wish HTTP/1.1\nHost: 127.0.0.1:{page.port}\n"
        "Content-Type: application/json\n"
    )
    assert status_of(raw(page, f"{head}Content-Length: 99999999999\n\n")) == 413
    assert status_of(raw(page, f"{head}Content-Length: -5\n\n")) == 400
    chunks = "4000\n" + "x" * 0x4000 + "\n"
    sent = f"{head}Transfer-Encoding: chunked\n\n{chunks * 5}0\n\n"
    assert status_of(raw(page, sent)) == 413


def test_a_wish_of_another_kind_is_refused(page):
    """A form on another page can send text and forms, not application/json."""
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data"):
        assert page.ask("POST", "wish", b"{}", Content_Type=kind)[0] == 415
    assert page.ask("POST", "wish", b"{}")[0] == 415
    assert page.ask("POST", "wish", b"nonsense", Content_Type="application/json")[0] == 422


UPGRADE = (
    "GET /{key}/events HTTP/1.1\nHost: 127.0.0.1:{port}\nOrigin: http://evil.example\n"
    "Upgrade: websocket\nConnection: Upgrade, close\nSec-WebSocket-Version: 13\n"
    "Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\n\n"
)


@pytest.mark.parametrize(
    "text",
    [
        "nonsense\n\n",
        "GET / HTTP/1.1\n\n",
        "GET /{key}/ HTTP/1.0\n\n",
        "GET /{key}/ HTTP/1.1\nHost: 127.0.0.1:{port}\nHost: evil.example\n\n",
        "GET /{key}/ HTTP/1.1\nHost: 127.0.0.1:{port}\nX: " + "x" * 200_000 + "\n\n",
        UPGRADE,
    ],
    ids=["no request", "no host", "old and no host", "two hosts", "long header", "websocket"],
)
def test_what_is_no_proper_request_is_refused(page, text):
    """Refused or cut off, never answered; and the next one is."""
    answer = raw(page, text.replace("{key}", page.key).replace("{port}", str(page.port)))
    assert status_of(answer) in {0, 400, 403, 431}  # 0: the line was cut on the way
    assert "Live" not in answer
    assert page.ask("GET", "controls")[0] == 200


def test_nobody_on_the_net_can_reach_it(page):
    """It listens at the loopback address alone: the next one on the same computer is closed."""
    with pytest.raises(OSError, match="refused"):
        socket.create_connection(("127.0.0.2", page.port), timeout=2)


def test_the_page_may_load_nothing_from_elsewhere(page):
    """Its policy (https://www.w3.org/TR/CSP3/) names itself alone; it stands in no frame."""
    status, headers, body = page.ask("GET", "")
    assert status == 200
    assert headers["x-frame-options"] == "DENY"
    assert headers["content-security-policy"] == "frame-ancestors 'none'"
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["cache-control"] == "no-store"
    assert "server" not in headers
    text = body.decode()
    policy = text.split('http-equiv="Content-Security-Policy" content="')[1].split('"')[0]
    policy = html.unescape(policy)
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["connect-src"] == "'self'"
    assert "unsafe" not in policy
    assert "http" not in policy


def test_too_many_listeners_are_told_so(page):
    """503 beyond a couple of dozen; once they are gone others are heard."""
    lines = []
    try:
        for _ in range(40):
            line = socket.create_connection(("127.0.0.1", page.port), timeout=5)
            lines.append(line)
            head = f"GET /{page.key}/events HTTP/1.1\r\nHost: 127.0.0.1:{page.port}\r\n\r\n"
            line.sendall(head.encode())
            if b" 503 " in line.recv(100):
                break
        assert 10 < len(lines) < 40
    finally:
        for line in lines:
            line.close()
    assert page.settled()["stage"] == ""
