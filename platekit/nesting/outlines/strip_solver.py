"""The solver in a process of its own: read a strip, say every better layout as it is found.

Run as a script, so that it starts at once: nothing of the package is imported. A process can be
ended at any moment, which a call into the solver cannot.

One JSON object comes on standard input: ``height``, ``items`` (``id``, ``ring``, ``quantity``,
``rotations``: a list of degrees or null), ``explore_s``, ``compress_s``, ``workers``, ``seed``.
Each line of standard output is one layout: ``[width, [[id, rotation, x, y], ...]]``.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import threading
from typing import TextIO

import spyrrow

# How often the solver is asked for news, s; also how soon this process follows its parent.
NEWS_S = 0.05

# Depth of the solver's tree of places: 3 is 10 % faster than its default with tens of parts.
TREE_DEPTH = 3


def main() -> None:
    """Solve the strip on standard input."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent decides what an interrupt means
    given = json.loads(sys.stdin.readline())
    threading.Thread(target=_follow_parent, daemon=True).start()
    strip = spyrrow.StripPackingInstance(
        "strip",
        given["height"],
        [
            spyrrow.Item(
                item["id"],
                [tuple(corner) for corner in item["ring"]],
                item["quantity"],
                item["rotations"],
            )
            for item in given["items"]
        ],
    )
    settings = spyrrow.StripPackingConfig(
        early_termination=False,
        quadtree_depth=TREE_DEPTH,
        total_computation_time=None,
        exploration_time=given["explore_s"],
        compression_time=given["compress_s"],
        num_workers=given["workers"],
        seed=given["seed"],
    )
    news = spyrrow.ProgressQueue()
    solving = threading.Thread(target=strip.solve, args=(settings, news), daemon=True)
    solving.start()
    while solving.is_alive():
        solving.join(NEWS_S)
        _say(news, sys.stdout)


def _follow_parent() -> None:
    """End as soon as nobody listens any more."""
    sys.stdin.read()
    os._exit(0)


def _say(news: spyrrow.ProgressQueue, out: TextIO) -> None:
    """Say the last of the layouts without overlaps that have come in."""
    sound = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas, spyrrow.ReportType.Final)
    layouts = [layout for kind, layout in news.drain() if kind in sound]
    if layouts:
        best = min(layouts, key=lambda layout: layout.width)
        placed = [[one.id, one.rotation, *one.translation] for one in best.placed_items]
        out.write(json.dumps([best.width, placed]) + "\n")
        out.flush()


if __name__ == "__main__":
    main()
