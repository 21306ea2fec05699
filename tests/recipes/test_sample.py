"""The committed sample is what the command writes today, byte for byte."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.recipes.builds import FLAGSHIP, ROOT

SAMPLE = ROOT / "out" / FLAGSHIP


def contents(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder by its path."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def written(*, hash_seeds: tuple[str, ...], into: Path) -> list[dict[str, bytes]]:
    """Return what the README's command writes, run at once with differently shuffled sets."""
    command = [sys.executable, "-m", "platekit", "make", f"recipes/{FLAGSHIP}.py", "--out"]
    runs = [
        subprocess.Popen(
            [*command, str(into / seed)],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        for seed in hash_seeds
    ]
    for run in runs:
        said, _ = run.communicate(timeout=300)
        assert run.returncode == 0, said
    return [contents(into / seed / FLAGSHIP) for seed in hash_seeds]


def fingerprints(files: dict[str, bytes]) -> dict[str, str]:
    """Return the SHA-256 (FIPS 180-4, by hashlib) of every file but the record."""
    return {
        path: hashlib.sha256(data).hexdigest()
        for path, data in files.items()
        if path != "build.json"
    }


def test_the_sample_is_what_the_command_writes_every_time(tmp_path: Path) -> None:
    """A run today writes the bytes of the run that wrote the sample, on whatever computer.

    Without a sample two runs write the same, Python's sets in different order. The record in
    build.json has the fingerprint of every other file.
    """
    there = (SAMPLE / "build.json").is_file()
    first, *others = written(hash_seeds=("1",) if there else ("0", "1"), into=tmp_path)
    for second in others:
        assert set(first) == set(second)
        assert [path for path in first if first[path] != second[path]] == []
    listed = json.loads(first["build.json"])["files"]
    assert {row["path"]: row["sha256"] for row in listed} == fingerprints(first)
    assert len(listed) == len(first) - 1
    if not there:
        pytest.skip(f"there is no sample in out/{FLAGSHIP}; two runs agree")
    sample = contents(SAMPLE)
    assert sorted(set(sample) - set(first)) == []
    assert [path for path in sample if sample[path] != first[path]] == []
    recorded = {row["path"]: row["sha256"] for row in json.loads(sample["build.json"])["files"]}
    for path, found in fingerprints(sample).items():
        assert recorded[path] == found, path
