"""Writing a whole folder at once, or leaving the old one as it was.

All files go into a hidden folder beside the target first and are forced to the disk. Then the old
folder steps aside, the new one takes its name, and the old one is removed. A full disk, a crash
or a kill before the swap leaves the old folder untouched; a kill in the instant between its two
renames leaves it whole under its hidden name, and the next run puts it back before anything else.
"""

from __future__ import annotations

import errno
import json
import os
import secrets
import shutil
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath
from typing import NoReturn

from platekit.errors import OutputError
from platekit.export.build import as_bytes

MANIFEST = "build.json"  # names the files of a run: what the next run may replace

# What a run writes even when its manifest is lost: cut files, which must never be left to be
# mistaken for new ones.
_CUT_FOLDERS = ("parts", "sheets")
_CUT_ENDINGS = (".dxf", ".svg")

_REASONS = {
    errno.ENOSPC: ("the disk is full", "make room or choose another folder with --out"),
    errno.EDQUOT: ("your disk quota is used up", "make room or choose another folder with --out"),
    errno.EACCES: ("no permission", "allow writing there or choose another folder with --out"),
    errno.EPERM: ("no permission", "allow writing there or choose another folder with --out"),
    errno.EROFS: ("the file system is read-only", "choose another folder with --out"),
    errno.ENOTDIR: ("a file stands where a folder should be", "move it or choose another --out"),
    errno.EEXIST: ("a file stands where a folder should be", "move it or choose another --out"),
    errno.ENAMETOOLONG: ("the name is too long", "choose a shorter one"),
    errno.EBUSY: ("something else is using it", "close what has it open and run again"),
}


def write_all(
    folder: str | os.PathLike[str], files: Mapping[str, str | bytes], *, manifest: str = MANIFEST
) -> None:
    """Write `files` as the whole outcome of one run: all of them or none.

    What an earlier run wrote into `folder` (named in its manifest, and any DXF or SVG in
    ``parts/`` and ``sheets/``) is gone afterwards unless it is among `files`, so that no old cut
    file can be taken for a new one. Every other file found there stays.

    Args:
        folder: Where to. Made if missing, with the folders above it.
        files: Relative path with forward slashes to content; text is written as UTF-8.
        manifest: Name of the file that names the files of a run.

    Raises:
        OutputError: A path leads out of the folder or stands twice, a foreign file is in the
            way, or the disk refuses. Nothing has changed then.
    """
    _require_safe(files)
    target = Path(folder).absolute()
    with refusals(target):
        target = target.resolve()
        if target.exists() and not target.is_dir():
            raise _refused(target, errno.ENOTDIR)
        if target.exists() and not _may_write(target):  # a rename would not even ask
            raise _refused(target, errno.EACCES)
        target.parent.mkdir(parents=True, exist_ok=True)
        _put_right(target)
        foreign = _foreign_files(target, manifest)
    _require_clear(target, foreign, files)
    staged = target.with_name(f".{target.name}.new-{secrets.token_hex(4)}")
    with refusals(target):
        try:
            with _held(staged):
                _fill(staged, files)
                if target.exists():
                    shutil.copymode(target, staged)
                for path in foreign:
                    _carry_over(target / path, staged / path)
                _force_folders_to_disk(staged)
                _swap(staged, target)
        finally:
            shutil.rmtree(staged, ignore_errors=True)


def _may_write(folder: Path) -> bool:
    return os.access(folder, os.W_OK, effective_ids=os.access in os.supports_effective_ids)


def _fill(staged: Path, files: Mapping[str, str | bytes]) -> None:
    for name, content in files.items():
        path = staged / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:
            file.write(as_bytes(content))
            file.flush()
            os.fsync(file.fileno())


def _swap(staged: Path, target: Path) -> None:
    """Give `staged` the name of `target`; on any failure the old folder has it back."""
    aside = target.with_name(staged.name.replace(".new-", ".old-"))
    old = target.exists()
    if old:
        target.rename(aside)
    try:
        staged.rename(target)
    except BaseException:  # a Ctrl-C as well: the old folder must not stay hidden
        if old:
            aside.rename(target)
        raise
    force_to_disk(target.parent)
    # From here on the run has succeeded: an old folder that cannot go is left to the next run.
    shutil.rmtree(aside, ignore_errors=True)


def _put_right(target: Path) -> None:
    """Clear up after runs that were killed: restore a folder caught between its renames."""
    hidden = [path for path in target.parent.iterdir() if path.name.startswith(f".{target.name}.")]
    newest_first = sorted(hidden, key=lambda path: path.lstat().st_ctime, reverse=True)
    for path in newest_first:
        kind = path.name.removeprefix(f".{target.name}.")[:4]
        if kind == "old-" and not target.exists():
            path.rename(target)
        elif kind == "old-" or (kind == "new-" and not _is_held(path)):
            shutil.rmtree(path, ignore_errors=True)


@contextmanager
def _held(staged: Path) -> Iterator[None]:
    """Make `staged` and hold it while it is filled: the system lets go even when we are killed."""
    staged.mkdir()
    if sys.platform == "win32":
        yield
        return
    import fcntl

    handle = os.open(staged, os.O_RDONLY)
    try:
        with suppress(OSError):  # some network disks know no locks
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        yield
    finally:
        os.close(handle)


def _is_held(staged: Path) -> bool:
    """Return whether another run may still be filling `staged`."""
    if sys.platform == "win32":
        return True
    import fcntl

    try:
        handle = os.open(staged, os.O_RDONLY)
    except OSError:
        return True
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return True
    finally:
        os.close(handle)
    return False


def _foreign_files(target: Path, manifest: str) -> tuple[str, ...]:
    """Return the paths in `target` that no run of ours wrote, links and empty folders included."""
    if not target.exists():
        return ()
    ours = _named_in_manifest(target, manifest)
    found: list[str] = []
    for place, folders, names in os.walk(target, onerror=_give_up):
        here = Path(place)
        leaves = [*names, *(name for name in folders if _is_leaf(here / name))]
        found += [(here / name).relative_to(target).as_posix() for name in leaves]
    return tuple(sorted(path for path in found if path not in ours and not _is_cut_file(path)))


def _give_up(err: OSError) -> NoReturn:
    """Raise `err`: what cannot be looked into cannot be carried over either."""
    raise err


def _is_leaf(folder: Path) -> bool:
    """Return whether a folder is to be carried over as it is: a link, or empty."""
    return folder.is_symlink() or not any(folder.iterdir())


def _is_cut_file(path: str) -> bool:
    pure = PurePosixPath(path)
    return (
        len(pure.parts) == 2
        and pure.parts[0] in _CUT_FOLDERS
        and pure.suffix.lower() in _CUT_ENDINGS
    )


def _named_in_manifest(target: Path, manifest: str) -> set[str]:
    """Return the paths that the manifest of an earlier run names, and its own."""
    try:
        said = json.loads((target / manifest).read_text(encoding="utf-8"))
        named = {str(file["path"]) for file in said["files"]}
        written_by_us = "platekit" in said
    except (OSError, ValueError, TypeError, KeyError):
        return set()
    return {*named, manifest} if written_by_us else set()


def _carry_over(old: Path, new: Path) -> None:
    """Let a foreign file be in the new folder as well, without touching it."""
    new.parent.mkdir(parents=True, exist_ok=True)
    if old.is_symlink():
        new.symlink_to(old.readlink())
    elif old.is_dir():
        new.mkdir(exist_ok=True)
    else:
        try:
            os.link(old, new)
        except OSError:  # a file system without links
            shutil.copy2(old, new)


def _force_folders_to_disk(staged: Path) -> None:
    for place, _, _ in os.walk(staged):
        force_to_disk(Path(place))


def force_to_disk(folder: Path) -> None:
    """Let the names in a folder reach the disk before going on."""
    if sys.platform == "win32":  # folders cannot be opened there; renames are journalled
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _require_safe(files: Mapping[str, str | bytes]) -> None:
    """Raise unless every path stays inside the folder and is a file of its own on any disk."""
    seen: dict[str, str] = {}
    for path in files:
        pure = PurePosixPath(path)
        if (
            not pure.parts
            or path != pure.as_posix()
            or pure.is_absolute()
            or ".." in pure.parts
            or (set(path) & set('\\:*?"<>|\0'))
        ):
            raise OutputError(f"{path!r} is no path inside the output folder")
        folded = path.casefold()
        if folded in seen:
            raise OutputError(
                f"{path!r} and {seen[folded]!r} would be one file on some disks",
                remedy="give the parts names that differ in more than capitals",
            )
        seen[folded] = path
    for path in files:
        above = {str(folder).casefold() for folder in PurePosixPath(path).parents}
        both = above & seen.keys()
        if both:
            raise OutputError(f"{seen[both.pop()]!r} would be a file and a folder")


def _require_clear(target: Path, foreign: tuple[str, ...], files: Mapping[str, object]) -> None:
    """Raise if a foreign file would have to give way."""
    wanted = set(files) | {str(above) for path in files for above in PurePosixPath(path).parents}
    for path in foreign:
        here = target / path
        if path in wanted and (here.is_symlink() or not here.is_dir()):
            raise OutputError(
                f"{here} is in the way: no earlier run is known to have written it",
                remedy="move it or choose another folder with --out",
            )


@contextmanager
def refusals(target: Path) -> Iterator[None]:
    """Turn what the system refuses into an OutputError that says where and why."""
    try:
        yield
    except OutputError:
        raise
    except OSError as err:
        raise _refused(target, err.errno or 0, str(err.strerror or err)) from err


def _refused(target: Path, number: int, said: str = "") -> OutputError:
    reason, remedy = _REASONS.get(number, (said, "choose another folder with --out"))
    refusal = OutputError(f"cannot write {target}: {reason}", remedy=remedy)
    refusal.errno = number or None
    return refusal
