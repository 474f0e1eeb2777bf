"""A bar for what takes longer than a second: on standard error, and only on a terminal."""

from __future__ import annotations

import sys
import time
from types import TracebackType
from typing import Any

AFTER = 1.0


class Progress:
    """Shows a bar after a second; off a terminal it does nothing, and rich is never imported."""

    def __init__(self, what: str) -> None:
        self.what = what
        self._start = time.monotonic()
        self._on = sys.stderr.isatty()
        self._bar: Any = None
        self._share: float | None = None

    def __enter__(self) -> Progress:
        return self

    def __call__(self, done: float | None) -> None:
        """Tell the share of the work that is done, 0 to 1, or None where nobody knows more than before."""
        if not self._on:
            return
        self._share = done = self._share if done is None else done
        if self._bar is None and time.monotonic() - self._start > AFTER and done != 1.0:
            self._bar = _bar(self.what)
        if self._bar is not None:
            total = None if done is None else 1.0
            self._bar.update(self._bar.task_ids[0], completed=done or 0.0, total=total, refresh=True)

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._bar is not None:
            self._bar.stop()


def _bar(what: str) -> Any:
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn, TimeRemainingColumn

    cells = (TextColumn("{task.description}"), BarColumn(), TaskProgressColumn(), TimeRemainingColumn())
    found = Progress(*cells, console=Console(file=sys.stderr), transient=True)
    found.add_task(what, total=1.0)
    found.start()
    return found
