"""The process that runs recipes for the page: it can be ended at any moment, and nothing is lost.

It stays for run after run, since importing takes longer than most recipes. What a recipe imported
from beside it is forgotten before each run, so that a saved module counts; a recipe that changes
other modules under way may find them changed.
"""

from __future__ import annotations

import importlib
import json
import os
import sys
import threading
from collections.abc import Mapping
from contextlib import chdir
from dataclasses import dataclass, field
from pathlib import Path
from queue import SimpleQueue
from typing import TYPE_CHECKING, BinaryIO, cast

from platekit.job.options import JoinName, Options
from platekit.live.appetite import bound_memory
from platekit.live.messages import CONTENT, CONTROLS, DONE, PROBLEM, READY, STAGE, Speaker
from platekit.live.printing import printing
from platekit.live.problem import problem_of
from platekit.live.reading import Reader
from platekit.live.stopping import Stopped, Stopper, place_of
from platekit.live.watching import own_modules
from platekit.live.wish import Wish, wish_of

if TYPE_CHECKING:
    from platekit.export.plain_json import Json
    from platekit.live.memory import Memory


def order_of(recipe: Path, options: Options, wish: Wish, *, run: int) -> bytes:
    """Return the line that asks a worker for one run."""
    said = {
        "run": run,
        "recipe": str(recipe),
        "join": options.join,
        "skip": list(options.skip),
        "bed_mm": options.bed_mm,
        "grid_mm": options.grid_mm,
        "wish": wish.plain(),
    }
    return json.dumps(said).encode() + b"\n"


@dataclass(frozen=True, kw_only=True)
class _Bench:
    """What stays from run to run."""

    speaker: Speaker
    here: Path
    memory: Memory
    stopper: Stopper
    reader: Reader = field(default_factory=Reader)


def main() -> None:
    """Serve orders from standard input until it ends."""
    # Orders and answers on lines of their own: whatever a recipe reads or writes must not come
    # between them. It finds nothing to read, and what it writes is seen in the terminal.
    incoming, outgoing = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    os.dup2(2, 1)
    stopper = Stopper()
    speaker = Speaker(outgoing, undisturbed=stopper.undisturbed)
    orders: SimpleQueue[bytes] = SimpleQueue()
    threading.Thread(target=_listen, args=(incoming, orders), daemon=True).start()
    _warm_up()
    from platekit.live.memory import Memory

    bound_memory()
    stopper.listen()
    bench = _Bench(speaker=speaker, here=Path.cwd(), memory=Memory(), stopper=stopper)
    speaker.say(READY, 0)
    while True:
        _serve(orders.get(), bench)


def _listen(incoming: BinaryIO, orders: SimpleQueue[bytes]) -> None:
    """Pass on orders. When the server has gone nobody waits for an answer: end at once."""
    for line in incoming:
        orders.put(line)
    os._exit(0)


def _warm_up() -> None:
    for name in ("platekit", "platekit.job.drawing_up", "platekit.live.telling"):
        importlib.import_module(name)


def _serve(line: bytes, bench: _Bench) -> None:
    order = cast("Mapping[str, object]", json.loads(line))
    run, recipe = cast("int", order["run"]), Path(cast("str", order["recipe"]))
    # What failed to import is among the loaded no more: those of before it are still watched.
    forget(recipe)
    stopped_at: dict[str, object] | None = None
    with printing() as printed:
        try:
            wish = wish_of(order["wish"])
            # A recipe may change the working folder: that ends with it.
            with bench.reader.listening(recipe), chdir(bench.here), bench.stopper.stoppable():
                _run(recipe, _options(order), wish, bench=bench, run=run)
        except Stopped as err:
            stopped_at = place_of(err, recipe).plain()
        # Ctrl-C never gets here: what looks like one was raised by the recipe.
        except BaseException as err:  # noqa: BLE001  the page is told, whatever it is
            bench.speaker.say(PROBLEM, run, problem_of(err, recipe=recipe).plain())
    files = dict.fromkeys((*own_modules(recipe), *bench.reader.files))
    said = {
        "files": [str(path) for path in files],
        "stopped_at": stopped_at,
        "printed": printed.text,
    }
    bench.speaker.say(DONE, run, said)


def _options(order: Mapping[str, object]) -> Options:
    bed = cast("list[float] | None", order["bed_mm"])
    return Options(
        join=cast("JoinName", order["join"]),
        skip=tuple(cast("list[str]", order["skip"])),
        bed_mm=None if bed is None else (bed[0], bed[1]),
        grid_mm=cast("float", order["grid_mm"]),
    )


def forget(recipe: Path) -> None:
    """Drop the modules that lie beside a recipe, so that they are read anew."""
    own = set(own_modules(recipe))
    for name, module in list(sys.modules.items()):
        named = getattr(module, "__file__", None)
        if name != "__main__" and isinstance(named, str) and Path(named) in own:
            del sys.modules[name]
    # The import system remembers what lies in a folder; a new module must be found.
    importlib.invalidate_caches()


def _run(recipe_path: Path, options: Options, wish: Wish, *, bench: _Bench, run: int) -> None:
    from platekit.job.drawing_up import draw_up
    from platekit.job.recipe import load_recipe
    from platekit.live.controls import controls_of, wish_for
    from platekit.live.telling import Telling

    told = ""
    memory, speaker = bench.memory, bench.speaker

    def tell(stage: str, share: float | None = None) -> None:
        nonlocal told
        del share
        word = stage.partition(":")[0]
        if word != told:
            told = word
            speaker.say(STAGE, run, word)

    tell("reading the recipe")
    recipe = load_recipe(recipe_path)
    speaker.say(CONTROLS, run, controls_of(recipe, options, wish))
    job = wish_for(recipe, wish).on(options)

    def show(depth: str, shown: dict[str, Json]) -> None:
        speaker.say(CONTENT, run, {"depth": depth, "content": shown})

    telling = Telling(recipe=recipe, job=job, memory=memory, show=show, progress=tell)
    telling.whole(
        draw_up(
            recipe,
            job,
            progress=tell,
            early=telling.early,
            deal=memory.deal,
            prove=memory.prove,
        )
    )


if __name__ == "__main__":
    main()
