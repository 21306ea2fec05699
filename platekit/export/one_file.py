"""Writing one file at once, or leaving the old one as it was."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from platekit.export.atomic import force_to_disk, refusals
from platekit.export.build import as_bytes


def write_one(path: Path, content: str | bytes) -> None:
    """Write `content`, text as UTF-8, as the file `path`; the folders above it are made if missing.

    Raises:
        OutputError: The disk refuses; the old file is as it was then.
    """
    target = path.absolute()
    with refusals(target):
        target.parent.mkdir(parents=True, exist_ok=True)
        target = target.resolve()
        staged = target.with_name(f".{target.name}.new-{secrets.token_hex(4)}")
        try:
            with staged.open("xb") as file:
                file.write(as_bytes(content))
                file.flush()
                os.fsync(file.fileno())
            staged.replace(target)
        finally:
            staged.unlink(missing_ok=True)
        force_to_disk(target.parent)
