"""Packs: many files as one ZIP archive that is the same to the byte whenever it is made.

Names in order, one time for all (the earliest ZIP knows), the same rights; packed by the zlib at
hand, so that another version of that may pack differently, though never anything else. Every file
but the list itself stands in SHA256SUMS, in the words that ``sha256sum -c`` reads.
"""

from __future__ import annotations

import hashlib
import io
import zipfile
from collections.abc import Mapping
from pathlib import Path

from platekit.errors import OutputError
from platekit.export.build import as_bytes

SUMS = "SHA256SUMS"
# Times in ZIP begin here (PKWARE's APPNOTE, section 4.4.6, from memory).
NO_TIME = (1980, 1, 1, 0, 0, 0)
UNIX = 3
READABLE = 0o100644 << 16
# Stands at the end of an archive and tells ours from others.
COMMENT = b"platekit pack"


def pack(folder: str, files: Mapping[str, str | bytes]) -> bytes:
    """Return files as the bytes of a ZIP archive, their list of SHA-256 sums added.

    Args:
        folder: Name of the one folder that everything unpacks into.
        files: Relative path with forward slashes to content; text is written as UTF-8.
    """
    whole = {**files, SUMS: sha256_sums(files)}
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as archive:
        archive.comment = COMMENT
        for path in sorted(whole):
            entry = zipfile.ZipInfo(f"{folder}/{path}", date_time=NO_TIME)
            entry.create_system = UNIX
            entry.external_attr = READABLE
            entry.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(entry, as_bytes(whole[path]), compresslevel=9)
    return stream.getvalue()


def sha256_sums(files: Mapping[str, str | bytes]) -> str:
    """Return a line for each file, sorted by path: its SHA-256 (FIPS 180-4) and its path."""
    lines = (
        f"{hashlib.sha256(as_bytes(files[path])).hexdigest()}  {path}\n" for path in sorted(files)
    )
    return "".join(lines)


def require_own_pack(path: Path) -> None:
    """Raise unless a pack may be written to `path`: nothing is there, or a pack of ours.

    Raises:
        OutputError: Something else is there.
    """
    if not path.exists():
        return
    try:
        with zipfile.ZipFile(path) as archive:
            ours = archive.comment == COMMENT
    except (OSError, zipfile.BadZipFile):
        ours = False
    if not ours:
        raise OutputError(
            f"{path} is in the way: it is no pack of ours",
            remedy="move it or choose another folder with --out",
        )
