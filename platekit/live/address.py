"""Where the page lives: a port, and a key that nobody can guess. Started again, both are the same.

A page that is still open then finds its server by itself. The key is made from the recipe's path
and a secret that lies among the user's own state files, readable to nobody else.
"""

from __future__ import annotations

import base64
import errno
import hashlib
import hmac
import os
import secrets
import socket
import stat
import sys
from dataclasses import dataclass
from pathlib import Path

from platekit.errors import PlatekitError

# This computer alone: nobody else on the net can ask.
HOST = "127.0.0.1"
# Ports for whoever comes, 49152 to 65535 (RFC 6335, section 6).
FIRST_PORT, PORTS = 49_152, 16_384
SECRET_BYTES = 32


class PortError(PlatekitError, OSError):
    """A port that cannot be had."""

    __str__ = PlatekitError.__str__


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where the page lives.

    Attributes:
        sock: Bound and listening.
        key: What the address must hold to be answered; nobody can guess it.
    """

    sock: socket.socket
    key: str

    @property
    def port(self) -> int:
        """The port it is bound to."""
        number: int = self.sock.getsockname()[1]
        return number

    @property
    def address(self) -> str:
        """What to give a browser."""
        return f"http://{HOST}:{self.port}/{self.key}/"


def open_place(port: int | None, recipe: Path) -> Place:
    """Return a place for a recipe at a port; None takes its usual one, or any where that is busy.

    Raises:
        PortError: Somebody else has it, or it may not be had.
    """
    if port is not None and not 1 <= port <= 65_535:
        raise PortError(f"port is {port}", remedy="give 1 to 65535, or none for a free one")
    said = hmac.new(_secret(), str(recipe.resolve()).encode("utf-8", "surrogateescape"), "sha256")
    digest = said.digest()
    key = base64.urlsafe_b64encode(digest[:16]).decode().rstrip("=")
    usual = FIRST_PORT + int.from_bytes(digest[16:20]) % PORTS
    for one in (port,) if port is not None else (usual, 0):
        sock, why = _bound(one)
        if sock is not None:
            return Place(sock=sock, key=key)
    raise PortError(f"port {port} {why}", remedy="leave --port out and a free one is taken")


def _bound(port: int) -> tuple[socket.socket | None, str]:
    """Return a socket that listens at a port, or why there is none."""
    sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":
        # Lets a port be had again at once; elsewhere the same word would let two share it.
        sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        sock.bind((HOST, port))
        sock.listen()
    except OSError as err:
        sock.close()
        return None, {
            errno.EADDRINUSE: "is busy: something else listens there",
            errno.EACCES: "may not be had without more rights",
        }.get(err.errno or 0, f"cannot be had: {err.strerror or err}")
    return sock, ""


def _secret() -> bytes:
    """Return the user's secret; a passing one where none can be kept, and then keys pass too."""
    try:
        return _kept_secret(state_folder() / "show-secret")
    except (OSError, RuntimeError, ValueError, KeyError):  # no home folder: Runtime- or KeyError
        return secrets.token_bytes(SECRET_BYTES)


def state_folder() -> Path:
    """Return where programs keep what they want to find again (XDG Base Directory, 0.8)."""
    if sys.platform == "win32":
        return Path(os.environ["LOCALAPPDATA"]) / "platekit"
    named = os.environ.get("XDG_STATE_HOME", "")
    base = Path(named) if named.startswith("/") else Path.home() / ".local" / "state"
    return base / "platekit"


def _kept_secret(path: Path) -> bytes:
    """Return the secret in a file, which is made where it is missing.

    Raises:
        OSError: It cannot be read or made.
        ValueError: Others may read it, or it is none.
    """
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    try:
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        pass
    else:
        with os.fdopen(descriptor, "wb") as new:
            new.write(secrets.token_bytes(SECRET_BYTES))
    with path.open("rb") as there:
        seen = os.fstat(there.fileno())
        held = there.read(SECRET_BYTES)
    mine = os.name != "posix" or seen.st_uid == os.getuid()
    private = os.name != "posix" or not seen.st_mode & (stat.S_IRWXG | stat.S_IRWXO)
    if not (mine and private and len(held) == SECRET_BYTES):
        message = f"{path} is no secret"
        raise ValueError(message)
    return hashlib.sha256(held).digest()
