"""The server for one recipe: the watch, the runner and the site, until it is ended."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Callable, Mapping
from contextlib import suppress
from importlib import resources
from pathlib import Path
from types import MappingProxyType

import uvicorn

from platekit.export.page.html import page_html
from platekit.export.totals import totals_json, totals_of
from platekit.job.options import Options
from platekit.live.address import Place
from platekit.live.desk import Desk
from platekit.live.guard import Guard
from platekit.live.problem import Problem
from platekit.live.runner import Runner
from platekit.live.site import Site
from platekit.live.watching import Watch, watch
from platekit.live.wish import Wish, wish_in

STYLE = "live.css"
# In the order in which they stand on each other.
SCRIPTS = ("controls.js", "changes.js", "live.js")
# What the page shows before the first run has come to anything: all there, all empty.
NOTHING: Mapping[str, object] = MappingProxyType(
    {
        **dict.fromkeys(("platekit", "title", "recipe", "summary", "sheet", "recipe_text"), ""),
        **dict.fromkeys(("stopped", "withheld"), False),
        **dict.fromkeys(("rig", "picture", "picture_apart", "carried"), None),
        "totals": totals_json(totals_of((), (), fasteners=None)),
        "figures": (("pieces", "0"),),
        **dict.fromkeys(("parts", "sheets", "bill", "families", "skipped"), ()),
        **dict.fromkeys(("findings", "steps", "inputs", "files", "cautions"), ()),
    }
)


def live_page(recipe: Path) -> str:
    """Return the page, empty until its script has fetched what is to be seen."""
    own = resources.files(__package__)
    return page_html(
        {**NOTHING, "title": recipe.stem, "recipe": recipe.stem},
        styles=[own.joinpath(STYLE).read_text(encoding="utf-8")],
        scripts=[own.joinpath(name).read_text(encoding="utf-8") for name in SCRIPTS],
        connects=True,
    )


async def serve(
    recipe: Path,
    options: Options,
    *,
    place: Place,
    limit_s: float,
    ready: Callable[[], None] = lambda: None,
    told: Callable[[Problem], None] = lambda _problem: None,
) -> None:
    """Show a recipe at a place, until the process is asked to end (SIGINT, SIGTERM).

    Args:
        recipe: The file.
        options: What the command line gave; what it says of sheet, beam and parameters is where
            the page begins.
        place: Where.
        limit_s: How long a run may take.
        ready: Called once requests are answered.
        told: Called with each problem as it comes up.
    """
    desk = Desk(told=told)
    watched = Watch(recipe)

    def ran(files: list[Path], well: bool) -> None:  # noqa: FBT001  the runner's word
        watched.also(files, whole_folder=not well)

    runner = Runner(recipe=recipe, options=options, desk=desk, limit_s=limit_s, done=ran)
    wishes = [wish_in(options)]

    def ask(wish: Wish) -> None:
        wishes[0] = wish
        runner.ask(wish)

    async def saved() -> None:
        runner.ask(wishes[0])

    site = Site(desk=desk, page=live_page(recipe), ask=ask)
    app = Guard(site.below(place.key), port=place.port)
    server = _Server(
        uvicorn.Config(
            app,
            lifespan="off",
            ws="none",
            interface="asgi3",
            access_log=False,
            log_config=None,
            log_level="error",  # what strangers send is no news for the user's terminal
            server_header=False,
            date_header=False,
            proxy_headers=False,
            timeout_graceful_shutdown=2,
        ),
        closing=desk.close,
    )
    ask(wishes[0])
    beside = [
        asyncio.create_task(watch(watched, saved)),
        asyncio.create_task(runner.serve()),
        asyncio.create_task(_once_started(server, ready)),
    ]
    try:
        await server.serve(sockets=[place.sock])
    finally:
        for task in beside:
            task.cancel()
        await asyncio.gather(*beside, return_exceptions=True)


def serve_until_ended(recipe: Path, options: Options, **how: object) -> None:
    """Run `serve` and take an interrupt from the keyboard for what it is: the end."""
    with suppress(KeyboardInterrupt):
        asyncio.run(serve(recipe, options, **how))  # type: ignore[arg-type]


class _Server(uvicorn.Server):
    """One that lets go of the pages that listen when it is asked to end."""

    def __init__(self, config: uvicorn.Config, *, closing: Callable[[], None]) -> None:
        super().__init__(config)
        self._closing = closing

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        self._closing()
        await super().shutdown(sockets=sockets)


async def _once_started(server: uvicorn.Server, ready: Callable[[], None]) -> None:
    while not server.started:  # noqa: ASYNC110  the server has nothing to wait on
        await asyncio.sleep(0.01)
    ready()
