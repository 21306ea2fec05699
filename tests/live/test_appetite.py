"""A run may take so much memory and no more."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from platekit.live.appetite import LEAST_BYTES, MOST_BYTES, most_bytes

MEMORY = Path("/proc/meminfo")


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux holds a process to it")
def test_what_asks_for_more_is_told_so_and_goes_on():
    """A list that grows by 64 MB ends where the limit is, about 300 MB, and not the computer."""
    text = (
        "import platekit.live.appetite as a\n"
        "a.most_bytes = lambda: 300 << 20\n"
        "a.bound_memory()\n"
        "held = []\n"
        "try:\n"
        "    while len(held) < 100:\n"
        "        held.append(bytearray(1 << 26))\n"
        "except MemoryError:\n"
        "    count = len(held)\n"
        "    held.clear()\n"
        "    print(count, len(bytearray(1 << 26)))\n"
    )
    done = subprocess.run([sys.executable, "-c", text], capture_output=True, text=True, check=True)
    count, again = map(int, done.stdout.split())
    assert 1 <= count <= 4
    assert again == 1 << 26


@pytest.mark.skipif(not MEMORY.exists(), reason="there is no /proc/meminfo")
def test_it_is_at_most_half_of_what_there_is():
    """By what the kernel itself says there is, or the least where that is more."""
    total_kb = int(MEMORY.read_text(encoding="ascii").split()[1])
    most = most_bytes()
    assert most is not None
    assert LEAST_BYTES <= most <= MOST_BYTES
    assert most <= max(total_kb * 1024 // 2, LEAST_BYTES)
    assert os.sysconf("SC_PHYS_PAGES") > 0
