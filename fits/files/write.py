"""The one writer: a file is complete or not there."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import tempfile
from collections.abc import Iterable, Iterator
from glob import escape
from pathlib import Path
from typing import BinaryIO

from fits.errors import DeliveryError, Fault

try:
    import fcntl
except ImportError:  # pragma: no cover, not POSIX
    fcntl = None  # type: ignore[assignment]

SUFFIX = ".fits-part"
# Spreadsheets know UTF-8 by this mark, and take "±" for two letters without it.
_MARK = "\ufeff".encode()


def write(path: str, content: str | bytes | Iterable[str]) -> None:
    """Write text in UTF-8, pieces of it as they come, or bytes: beside the file first, then renamed.

    A table (``.csv``) begins with the mark by which spreadsheets know UTF-8. What two runs write
    at once doesn't mix: each has a file of its own beside, and the last to end stays. A link is
    followed; a device or a pipe is written into as it is.

    Raises:
        DeliveryError: the file can't be written; what stood there before still does, as it
            does when the pieces break off.
    """
    try:
        target = Path(os.path.realpath(path))
        mode = _mode(path)
        if mode is not None and stat.S_ISDIR(mode):
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
        if mode is not None and not stat.S_ISREG(mode):
            with Path(path).open("wb") as device:
                _fill(device, target, content)
            return
        _sweep(target)
        beside = target.with_name(f"{target.name}.{os.getpid()}{SUFFIX}")
        try:
            with beside.open("wb") as file:
                _hold(file)
                _fill(file, target, content)
                os.fsync(file.fileno())
                if mode is not None:
                    beside.chmod(stat.S_IMODE(mode))
                beside.replace(target)
        finally:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)
    except OSError as error:
        raise DeliveryError(Fault(f"can't write the file: {error.strerror}", place=path)) from None


def _mode(path: str) -> int | None:
    """What stands at a path and who may use it; None where nothing does."""
    try:
        return Path(path).stat().st_mode
    except FileNotFoundError:
        return None


def _fill(file: BinaryIO, target: Path, content: str | bytes | Iterable[str]) -> None:
    if target.suffix.lower() == ".csv":
        file.write(_MARK)
    if isinstance(content, bytes):
        file.write(content)
    else:
        pieces = (content,) if isinstance(content, str) else content
        file.writelines(piece.encode() for piece in pieces)
    file.flush()


def _hold(file: BinaryIO) -> bool:
    """Mark a file as being written, as long as it is open; False where another run does.

    Without POSIX locks nothing is marked, and what a killed run left is left.
    """
    if fcntl is None:
        return False
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _sweep(target: Path) -> None:
    """Take away what a killed run left beside an answer."""
    for left in target.parent.glob(f"{escape(target.name)}.*{SUFFIX}"):
        with contextlib.suppress(OSError), left.open("rb+") as file:
            if _hold(file):
                left.unlink()


def gathered(pieces: Iterable[str]) -> Iterator[str]:
    """Pieces of text once all of them are there, kept on the disk meanwhile.

    Raises:
        DeliveryError: no room for them; nothing comes.
    """
    with contextlib.ExitStack() as stack:
        try:
            file = stack.enter_context(
                tempfile.TemporaryFile("w+", encoding="utf-8", newline="\n", prefix="fits-")
            )
            file.writelines(pieces)
            file.seek(0)
        except OSError as error:
            raise DeliveryError(Fault(f"can't keep the answer: {error.strerror}")) from None
        stack.pop_all()

    def again() -> Iterator[str]:
        with file:
            while piece := file.read(1 << 20):
                yield piece

    return again()
