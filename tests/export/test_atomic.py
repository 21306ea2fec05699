"""Writing a whole folder, or nothing."""

import errno
import json
import os
import shutil
import signal
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from platekit.errors import OutputError
from platekit.export.atomic import write_all

POSIX = pytest.mark.skipif(os.name != "posix", reason="no such permissions or signals here")


def run_files(mark, *, parts=("base", "lid")):
    """Return what a run might write; every file carries `mark`."""
    files = {f"parts/{part}.dxf": f"{part} {mark}" for part in parts}
    files["sheets/1.svg"] = f"sheet {mark}".encode()
    files["bill_of_materials.csv"] = f"bill {mark}"
    named = [{"path": path, "sha256": ""} for path in sorted(files)]
    files["build.json"] = json.dumps({"platekit": mark, "files": named})
    return files


def contents(folder):
    """Return every file below `folder` by its path."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def as_written(files):
    """Return the bytes `files` should have on disk."""
    return {path: said.encode() if isinstance(said, str) else said for path, said in files.items()}


def test_all_files_are_there_and_nothing_else(tmp_path):
    """Folders are made, text is UTF-8 as it stands, no helper file is left beside."""
    folder = tmp_path / "out" / "rig"
    files = run_files("one\r\nØ")
    write_all(folder, files)
    assert contents(folder) == as_written(files)
    assert [path.name for path in folder.parent.iterdir()] == ["rig"]


def test_a_second_run_replaces_the_first_whole(tmp_path):
    """A part that is no longer made leaves no file behind to be cut by mistake."""
    folder = tmp_path / "rig"
    write_all(folder, run_files("one", parts=("base", "lid", "old")))
    write_all(folder, run_files("two"))
    assert contents(folder) == as_written(run_files("two"))
    assert [path.name for path in tmp_path.iterdir()] == ["rig"]


def test_withheld_cut_files_go_even_without_a_manifest(tmp_path):
    """DXF and SVG in parts/ and sheets/ are ours though build.json is lost."""
    folder = tmp_path / "rig"
    write_all(folder, {"parts/base.dxf": "old", "sheets/1.SVG": "old"})
    write_all(folder, {"build.json": "{}"})
    assert contents(folder) == {"build.json": b"{}"}


def test_foreign_files_stay(tmp_path):
    """What no run wrote is still there: files, folders, links, an empty folder, permissions."""
    folder = tmp_path / "rig"
    write_all(folder, run_files("one"))
    (folder / "notes.txt").write_text("mine")
    (folder / "parts" / "sketch.png").write_bytes(b"mine")
    (folder / "photos" / "deep").mkdir(parents=True)
    (folder / "photos" / "deep" / "a.jpg").write_bytes(b"mine")
    (folder / "empty").mkdir()
    (folder / "script.sh").write_text("mine")
    (folder / "script.sh").chmod(0o750)
    if os.name == "posix":
        (folder / "link").symlink_to("notes.txt")
        (folder / "linked").symlink_to("photos")
    before = (folder / "notes.txt").stat().st_mtime_ns
    write_all(folder, run_files("two"))
    found = contents(folder)
    assert found["notes.txt"] == found["parts/sketch.png"] == found["photos/deep/a.jpg"] == b"mine"
    assert found["parts/base.dxf"] == b"base two"
    assert (folder / "empty").is_dir()
    assert (folder / "notes.txt").stat().st_mtime_ns == before
    if os.name == "posix":
        assert (folder / "link").readlink() == Path("notes.txt")
        assert (folder / "linked").readlink() == Path("photos")
        assert stat.S_IMODE((folder / "script.sh").stat().st_mode) == 0o750


@pytest.mark.parametrize(
    "existing", ["build.json", "bill_of_materials.csv", "parts", "sheets/1.svg/mine"]
)
def test_a_foreign_file_in_the_way_stops_the_run(existing, tmp_path):
    """It is named, and nothing is touched."""
    folder = tmp_path / "rig"
    (folder / existing).parent.mkdir(parents=True)
    (folder / existing).write_text("mine")
    before = contents(folder)
    with pytest.raises(OutputError, match=r"in the way|a file stands where"):
        write_all(folder, run_files("one"))
    assert contents(folder) == before
    assert [path.name for path in tmp_path.iterdir()] == ["rig"]


@pytest.mark.parametrize(
    ("paths", "said"),
    [
        (["../base.dxf"], "is no path inside"),
        (["/base.dxf"], "is no path inside"),
        (["parts//base.dxf"], "is no path inside"),
        (["parts\\base.dxf"], "is no path inside"),
        (["C:base.dxf"], "is no path inside"),
        ([""], "is no path inside"),
        (["."], "is no path inside"),
        (["parts/Lid.dxf", "parts/lid.dxf"], "would be one file on some disks"),
        (["parts", "parts/lid.dxf"], "would be a file and a folder"),
        (["Parts", "parts/lid.dxf"], "would be a file and a folder"),
    ],
)
def test_unsafe_paths_are_refused(paths, said, tmp_path):
    """No file lands outside the folder or over another."""
    with pytest.raises(OutputError, match=said):
        write_all(tmp_path / "rig", dict.fromkeys(paths, ""))
    assert list(tmp_path.iterdir()) == []


def test_a_file_where_the_folder_should_be(tmp_path):
    """The message names it, and it stays."""
    (tmp_path / "rig").write_text("mine")
    with pytest.raises(OutputError, match="rig: a file stands where a folder should be; move it"):
        write_all(tmp_path / "rig", run_files("one"))
    with pytest.raises(OutputError, match="a file stands where a folder should be"):
        write_all(tmp_path / "rig" / "deeper", run_files("one"))
    assert (tmp_path / "rig").read_text() == "mine"


@pytest.mark.parametrize(
    ("refused", "call"),
    [
        *(("write", call) for call in range(5)),  # the five files
        *(("fsync", call) for call in range(8)),  # the files and three folders
        *(("rename", call) for call in range(2)),  # old aside, new in place
    ],
)
def test_a_failure_at_any_step_leaves_the_old_folder(refused, call, tmp_path, monkeypatch):
    """A disk that fills, or fails, at the n-th step: old files whole, nothing beside them."""
    folder = tmp_path / "rig"
    write_all(folder, run_files("one"))
    (folder / "notes.txt").write_text("mine")
    before = contents(folder)
    count = iter(range(100))

    def failing(work):
        def step(*args):
            if next(count) == call:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return work(*args)

        return step

    if refused == "fsync":
        monkeypatch.setattr(os, "fsync", failing(os.fsync))
    elif refused == "rename":
        monkeypatch.setattr(Path, "rename", failing(Path.rename))
    else:
        monkeypatch.setattr("platekit.export.atomic.as_bytes", failing(lambda _: b"half"))
    with pytest.raises(OutputError, match=r"rig: the disk is full; make room") as caught:
        write_all(folder, run_files("two"))
    assert caught.value.errno == errno.ENOSPC
    monkeypatch.undo()
    assert contents(folder) == before
    assert [path.name for path in tmp_path.iterdir()] == ["rig"]


def test_an_interrupt_between_the_renames_puts_the_old_folder_back(tmp_path, monkeypatch):
    """Ctrl-C at the worst moment."""
    folder = tmp_path / "rig"
    write_all(folder, run_files("one"))
    rename, count = Path.rename, iter(range(9))

    def step(path, target):
        if next(count) == 1:
            raise KeyboardInterrupt
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", step)
    with pytest.raises(KeyboardInterrupt):
        write_all(folder, run_files("two"))
    assert contents(folder) == as_written(run_files("one"))
    assert [path.name for path in tmp_path.iterdir()] == ["rig"]


KILLED = """
import os, pathlib, signal, sys
from platekit.export import atomic
from tests.export.test_atomic import run_files
call, count = int(sys.argv[2]), iter(range(1000))
def deadly(work):
    def step(*args):
        if next(count) == call:
            os.kill(os.getpid(), signal.SIGKILL)
        return work(*args)
    return step
os.fsync = deadly(os.fsync)
pathlib.Path.rename = deadly(pathlib.Path.rename)
atomic.write_all(sys.argv[1], run_files("two"))
"""


@POSIX
@pytest.mark.parametrize("call", [0, 3, 7, 8, 9, 10, 99])
def test_a_kill_at_any_step_loses_nothing(call, tmp_path):
    """After kill -9 the old folder is whole, or the new one once swapped; a next run clears up.

    Caught between the two renames, the old folder is whole under its hidden name.
    """
    folder = tmp_path / "rig"
    write_all(folder, run_files("one"))
    (folder / "notes.txt").write_text("mine")
    died = subprocess.run(
        [sys.executable, "-c", KILLED, str(folder), str(call)],
        env={"PYTHONPATH": os.pathsep.join([str(Path.cwd()), *filter(None, sys.path)])},
        check=False,
        capture_output=True,
    )
    assert died.returncode == (0 if call == 99 else -signal.SIGKILL), died.stderr
    new = {**as_written(run_files("two")), "notes.txt": b"mine"}
    old = {**as_written(run_files("one")), "notes.txt": b"mine"}
    hidden = {path.name.split("-")[0]: path for path in tmp_path.iterdir() if path != folder}
    if folder.exists():
        assert contents(folder) == (new if call >= 10 else old)
    else:
        assert contents(hidden[".rig.old"]) == old
        assert call == 9  # 0..4 files, 5..7 folders to disk, 8 and 9 the renames, 10 the parent
    write_all(folder, run_files("three"))
    assert contents(folder) == {**as_written(run_files("three")), "notes.txt": b"mine"}
    assert [path.name for path in tmp_path.iterdir()] == ["rig"]


@POSIX
def test_another_runs_unfinished_folder_is_let_alone(tmp_path):
    """A run that is still writing holds its folder: a second one does not sweep it away."""
    folder = tmp_path / "rig"
    staged = tmp_path / ".rig.new-12345678"
    staged.mkdir()
    (staged / "half").write_text("half")
    code = (
        "import fcntl, os, sys; fcntl.flock(os.open(sys.argv[1], os.O_RDONLY), fcntl.LOCK_EX);"
        "print('held', flush=True); sys.stdin.read()"
    )
    holder = subprocess.Popen(
        [sys.executable, "-c", code, str(staged)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    with holder:
        assert holder.stdout.readline() == b"held\n"
        write_all(folder, run_files("one"))
        assert contents(staged) == {"half": b"half"}
        holder.stdin.close()
    write_all(folder, run_files("two"))
    assert not staged.exists()


@pytest.fixture
def open_folder():
    """A folder whose way from the root every user may go, unlike pytest's own."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    for path in (folder, *folder.rglob("*")):
        if path.is_dir():
            path.chmod(0o755)
    shutil.rmtree(folder)


@POSIX
@pytest.mark.parametrize("locked", ["parent", "folder"])
def test_no_permission(locked, open_folder):
    """A folder its owner made read-only is respected; the message says where and why."""
    folder = open_folder / "out" / "rig"
    write_all(folder, run_files("one"))
    before = contents(folder)
    user = os.geteuid()
    if user == 0:  # root may write anywhere: be nobody for a moment
        for path in (folder, folder.parent):
            os.chown(path, 65534, 65534)
    (folder if locked == "folder" else folder.parent).chmod(0o555)
    try:
        if user == 0:
            os.seteuid(65534)
        with pytest.raises(OutputError, match=r"out/rig: no permission; allow writing there"):
            write_all(folder, run_files("two"))
    finally:
        os.seteuid(user)
    assert contents(folder) == before
    assert [path.name for path in folder.parent.iterdir()] == ["rig"]


@pytest.fixture
def small_disk(tmp_path):
    """A real disk of 64 KiB."""
    place = tmp_path / "disk"
    place.mkdir()
    mount = shutil.which("mount")
    tried = mount and subprocess.run(
        [mount, "-t", "tmpfs", "-o", "size=64k", "tmpfs", place], check=False, capture_output=True
    )
    if not tried or tried.returncode:
        pytest.skip("no right to mount a small disk here")
    yield place
    subprocess.run(["umount", place], check=True)


def test_a_disk_that_is_really_full(small_disk):
    """Old files whole, room given back, and the next smaller run goes through."""
    folder = small_disk / "rig"
    write_all(folder, run_files("one"))
    with pytest.raises(OutputError, match="rig: the disk is full"):
        write_all(folder, {**run_files("two"), "parts/large.dxf": "x" * 100_000})
    assert contents(folder) == as_written(run_files("one"))
    assert [path.name for path in small_disk.iterdir()] == ["rig"]
    write_all(folder, run_files("three"))
    assert contents(folder) == as_written(run_files("three"))


@POSIX
def test_who_may_enter_the_folder_stays_as_it_was(tmp_path):
    """A folder opened to a group, or closed to it, is so after the next run as well."""
    folder = tmp_path / "rig"
    write_all(folder, run_files("one"))
    for mode in (0o700, 0o775):
        folder.chmod(mode)
        write_all(folder, run_files("two"))
        assert stat.S_IMODE(folder.stat().st_mode) == mode


@POSIX
def test_a_linked_folder_stays_a_link(tmp_path):
    """Output that was sent to another disk by a link still goes there."""
    (tmp_path / "there").mkdir()
    (tmp_path / "rig").symlink_to("there")
    write_all(tmp_path / "rig", run_files("one"))
    assert (tmp_path / "rig").is_symlink()
    assert contents(tmp_path / "there") == as_written(run_files("one"))
