"""Who is answered: this computer's own browser, at this page's own address, in small letters.

A page elsewhere on the net can make a browser send requests to this computer. It is kept out by
what it cannot choose: the ``Host`` it addressed (a name of its own that it lets point here), the
``Origin`` it stands on (https://www.rfc-editor.org/rfc/rfc6454), and the key in the path, which it
does not know.
"""

from __future__ import annotations

from collections.abc import Iterable

from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LONGEST_BODY = 64 * 1024

# Nothing from elsewhere, in no frame, and nobody is told where this page lives.
_HEADERS = (
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"x-frame-options", b"DENY"),
    (b"content-security-policy", b"frame-ancestors 'none'"),
    (b"cache-control", b"no-store"),
)


def own_hosts(port: int) -> frozenset[str]:
    """Return what a browser on this computer calls the server."""
    names = ("127.0.0.1", "localhost")
    plain = names if port == 80 else ()  # a browser leaves the usual port out
    return frozenset((*(f"{name}:{port}" for name in names), *plain))


class Guard:
    """Stands before the site and lets in what is its own."""

    def __init__(self, site: ASGIApp, *, port: int) -> None:
        self._site = site
        self._hosts = own_hosts(port)
        self._origins = frozenset(f"http://{host}" for host in self._hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return
        headers: list[tuple[bytes, bytes]] = scope["headers"]

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                own = {name.lower() for name, _ in message.get("headers", ())}
                more = [(name, value) for name, value in _HEADERS if name not in own]
                message = {**message, "headers": [*message.get("headers", ()), *more]}
            await send(message)

        refusal = self._refusal(headers)
        if refusal is None:
            body = await _body(headers, receive)
            if body is not None:
                await self._site(scope, _again(body, receive), send_guarded)
                return
            refusal = PlainTextResponse("the body is too long\n", status_code=413)
            # The rest of it is not read, so the line cannot serve for another request.
            refusal.headers["connection"] = "close"
        await refusal(scope, receive, send_guarded)

    def _refusal(self, headers: Iterable[tuple[bytes, bytes]]) -> PlainTextResponse | None:
        hosts = _all(headers, b"host")
        if len(hosts) != 1 or hosts[0].lower() not in self._hosts:
            return PlainTextResponse("this is no name of this server\n", status_code=403)
        if any(origin.lower() not in self._origins for origin in _all(headers, b"origin")):
            return PlainTextResponse("another page may not ask this\n", status_code=403)
        # To follow a link that leads here is no harm; to fetch from elsewhere is.
        if "cross-site" in _all(headers, b"sec-fetch-site") and "navigate" not in _all(
            headers, b"sec-fetch-mode"
        ):
            return PlainTextResponse("another page may not ask this\n", status_code=403)
        return None


def _all(headers: Iterable[tuple[bytes, bytes]], name: bytes) -> list[str]:
    return [value.decode("latin-1") for key, value in headers if key.lower() == name]


async def _body(headers: Iterable[tuple[bytes, bytes]], receive: Receive) -> bytes | None:
    """Return the whole body; None when it is too long, announced or not."""
    lengths = _all(headers, b"content-length")
    if any(not one.isdecimal() or int(one) > LONGEST_BODY for one in lengths):
        return None
    body = bytearray()
    while True:
        message = await receive()
        if message["type"] == "http.disconnect":
            return bytes(body)
        body += message.get("body", b"")
        if len(body) > LONGEST_BODY:
            return None
        if not message.get("more_body", False):
            return bytes(body)


def _again(body: bytes, receive: Receive) -> Receive:
    """Return a receiver that gives a body already read, then what comes after it."""
    given = False

    async def again() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return again
