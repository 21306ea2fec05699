"""Packs: read by the system's own unzip and sha256sum, and by the standard library."""

from __future__ import annotations

import hashlib
import io
import shutil
import subprocess
import zipfile

import pytest

from platekit.errors import OutputError
from platekit.export.pack import SUMS, pack, require_own_pack, sha256_sums

FILES = {"b/part one.svg": "<svg/>", "a.txt": "größer\n", "raw.bin": bytes(range(256)) * 40}


def test_the_archive_holds_every_file_once_in_order_without_a_date():
    """What went in comes out by zipfile; entries bear ZIP's earliest time and plain rights."""
    with zipfile.ZipFile(io.BytesIO(pack("rig", FILES))) as archive:
        assert archive.testzip() is None
        names = archive.namelist()
        assert names == sorted(f"rig/{path}" for path in [*FILES, SUMS])
        for path, content in FILES.items():
            raw = content if isinstance(content, bytes) else content.encode("utf-8")
            assert archive.read(f"rig/{path}") == raw
        for entry in archive.infolist():
            assert entry.date_time == (1980, 1, 1, 0, 0, 0)
            assert entry.external_attr >> 16 == 0o100644


def test_the_order_of_the_files_does_not_reach_the_bytes():
    """The same files give the same archive."""
    assert pack("rig", dict(reversed(FILES.items()))) == pack("rig", FILES)


def test_sums_are_those_of_hashlib():
    """A line for each file: 64 digits, two blanks, the path."""
    lines = sha256_sums(FILES).splitlines()
    assert [line[66:] for line in lines] == sorted(FILES)
    for line in lines:
        content = FILES[line[66:]]
        raw = content if isinstance(content, bytes) else content.encode("utf-8")
        assert line[:66] == f"{hashlib.sha256(raw).hexdigest()}  "


@pytest.mark.skipif(
    shutil.which("unzip") is None or shutil.which("sha256sum") is None,
    reason="unzip or sha256sum is not there",
)
def test_the_systems_own_tools_agree(tmp_path):
    """``unzip -t`` finds no error, ``sha256sum -c`` finds every file as it was."""
    path = tmp_path / "rig.zip"
    path.write_bytes(pack("rig", FILES))
    subprocess.run(["unzip", "-tq", str(path)], check=True, capture_output=True)
    subprocess.run(["unzip", "-q", str(path)], check=True, cwd=tmp_path)
    told = subprocess.run(
        ["sha256sum", "--strict", "-c", SUMS],
        check=True,
        cwd=tmp_path / "rig",
        capture_output=True,
        text=True,
    )
    assert sorted(told.stdout.splitlines()) == sorted(f"{path}: OK" for path in FILES)


def test_only_a_pack_of_ours_gives_way(tmp_path):
    """A stranger's archive, a text and a folder stay where they are."""
    path = tmp_path / "rig.zip"
    require_own_pack(path)
    path.write_bytes(pack("rig", FILES))
    require_own_pack(path)
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("a.txt", "a")
    folder = tmp_path / "folder.zip"
    folder.mkdir()
    text = tmp_path / "text.zip"
    text.write_text("no archive", encoding="utf-8")
    for foreign in (path, folder, text):
        with pytest.raises(OutputError, match="in the way"):
            require_own_pack(foreign)
