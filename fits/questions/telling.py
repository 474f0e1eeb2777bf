"""How far a long question is, for whoever wants to know: a callback, set around the question.

Every evaluation tells that work goes on; a question that knows its share of the work tells that.

>>> from fits.questions.telling import tell, telling
>>> shares = []
>>> with telling(shares.append):
...     tell(0.5)
>>> tell(1.0)
>>> shares
[0.5]
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

Told = Callable[[float | None], None]

_TOLD: ContextVar[Told | None] = ContextVar("told", default=None)


@contextmanager
def telling(told: Told) -> Iterator[None]:
    """Have a callback told, within, the share that is done, 0 to 1, or None where nobody knows."""
    before = _TOLD.set(told)
    try:
        yield
    finally:
        _TOLD.reset(before)


def tell(share: float | None = None) -> None:
    """Tell how far it is; nobody need listen."""
    told = _TOLD.get()
    if told is not None:
        told(share)
