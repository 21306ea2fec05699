"""What the page may ask for: itself, what is to be seen, news of it, and to have a wish taken."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass, field

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route

from platekit.live.desk import Desk, as_event
from platekit.live.wish import Wish, WishError, read_wish

# More pages than anybody keeps open; beyond it something asks again and again.
MOST_LISTENERS = 24


@dataclass(frozen=True, kw_only=True)
class Site:
    """The answers.

    Attributes:
        desk: What is to be seen.
        page: The page itself.
        ask: Takes a wish.
    """

    desk: Desk
    page: str
    ask: Callable[[Wish], None]
    _listeners: asyncio.Semaphore = field(default_factory=lambda: asyncio.Semaphore(MOST_LISTENERS))

    def below(self, key: str) -> Starlette:
        """Return the site as an application, all of it below ``/KEY/``; no file is ever served."""
        site = Starlette(
            routes=[
                Route(f"/{key}/", self._page, methods=["GET"]),
                Route(f"/{key}/content", self._content, methods=["GET"]),
                Route(f"/{key}/controls", self._controls, methods=["GET"]),
                Route(f"/{key}/events", self._events, methods=["GET"]),
                Route(f"/{key}/wish", self._wish, methods=["POST"]),
            ]
        )
        # A path that is nearly one of ours is none of ours.
        site.router.redirect_slashes = False
        return site

    async def _page(self, _request: Request) -> Response:
        return Response(self.page, media_type="text/html")

    async def _content(self, _request: Request) -> Response:
        if not self.desk.content:
            return PlainTextResponse("there is nothing to see yet\n", status_code=404)
        return Response(self.desk.content, media_type="application/json")

    async def _controls(self, _request: Request) -> Response:
        return Response(self.desk.controls, media_type="application/json")

    async def _events(self, _request: Request) -> Response:
        if self._listeners.locked():
            return PlainTextResponse("too many pages listen\n", status_code=503)
        return StreamingResponse(self._told(), media_type="text/event-stream")

    async def _told(self) -> AsyncIterator[str]:
        async with self._listeners:
            async for status in self.desk.news():
                yield as_event(status)

    async def _wish(self, request: Request) -> Response:
        kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
        # A form on another page cannot send this kind without asking first.
        if kind != "application/json":
            return PlainTextResponse("a wish is application/json\n", status_code=415)
        try:
            self.ask(read_wish(await request.body()))
        except WishError as err:
            return JSONResponse({"says": str(err)}, status_code=422)
        return Response(status_code=204)
