"""How much memory a run may take: a recipe that eats without end fails, and not the computer."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path

# A share of what there is, within bounds: large rigs take a third of the least, and to fill more
# than the most takes so long that one waits for the message.
SHARE, LEAST_BYTES, MOST_BYTES = 0.5, 1 << 30, 1 << 32
# What a container may take, where one runs in one (control groups, version 2 and 1).
_CONTAINER = (
    Path("/sys/fs/cgroup/memory.max"),
    Path("/sys/fs/cgroup/memory/memory.limit_in_bytes"),
)


def most_bytes() -> int | None:
    """Return what a run may take, bytes; None where the system does not say what there is."""
    there = [size for size in (_computer(), *map(_limit, _CONTAINER)) if size]
    return min(max(int(SHARE * min(there)), LEAST_BYTES), MOST_BYTES) if there else None


def bound_memory() -> None:
    """Let this process take no more than that from now on, where the system can hold it to it.

    Beyond it Python raises MemoryError, at the very line that asked for too much.
    """
    if sys.platform != "linux":
        return  # elsewhere the limit on data does not count what is mapped
    import resource

    most = most_bytes()
    if most is not None:
        _, hard = resource.getrlimit(resource.RLIMIT_DATA)
        wanted = most if hard == resource.RLIM_INFINITY else min(most, hard)
        with suppress(OSError, ValueError):
            resource.setrlimit(resource.RLIMIT_DATA, (wanted, hard))


def _computer() -> int | None:
    with suppress(AttributeError, OSError, ValueError):
        return os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")
    return None


def _limit(path: Path) -> int | None:
    with suppress(OSError, ValueError):
        return int(path.read_text(encoding="ascii"))
    return None
