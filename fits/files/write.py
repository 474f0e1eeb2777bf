"""The one writer: a file is complete or not there."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from fits.errors import DeliveryError, Fault

SUFFIX = ".fits-part"


def write(path: str, content: str | bytes) -> None:
    """Write text (UTF-8, newlines as they are) or bytes: beside the file first, to the disk, then renamed.

    Raises:
        DeliveryError: the file can't be written; what stood there before still does.
    """
    target = Path(path)
    beside = target.with_name(target.name + SUFFIX)
    try:
        with beside.open("wb") as file:
            file.write(content.encode() if isinstance(content, str) else content)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(target)
    except OSError as error:
        with contextlib.suppress(OSError):
            beside.unlink()
        raise DeliveryError(Fault(f"can't write the file: {error.strerror}", place=path)) from None
