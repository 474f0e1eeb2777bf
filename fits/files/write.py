"""The one writer: a file is complete or not there."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterable, Iterator
from pathlib import Path

from fits.errors import DeliveryError, Fault

SUFFIX = ".fits-part"
# Spreadsheets know UTF-8 by this mark, and take "±" for two letters without it.
_MARK = "\ufeff".encode()


def write(path: str, content: str | bytes | Iterable[str]) -> None:
    """Write text in UTF-8, pieces of it as they come, or bytes: beside the file first, then renamed.

    A table (``.csv``) begins with the mark by which spreadsheets know UTF-8.

    Raises:
        DeliveryError: the file can't be written; what stood there before still does, as it
            does when the pieces break off.
    """
    target = Path(path)
    beside = target.with_name(target.name + SUFFIX)
    try:
        with beside.open("wb") as file:
            if target.suffix.lower() == ".csv":
                file.write(_MARK)
            if isinstance(content, bytes):
                file.write(content)
            else:
                pieces = (content,) if isinstance(content, str) else content
                file.writelines(piece.encode() for piece in pieces)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(target)
    except OSError as error:
        raise DeliveryError(Fault(f"can't write the file: {error.strerror}", place=path)) from None
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)


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
