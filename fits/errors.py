"""The error tree: every refusal is a list of faults, each one line long.

FitsError
├── InputError(ValueError)     what was asked or typed is wrong
├── TableError(ValueError)     a table of ours is malformed
└── DeliveryError(OSError)     the answer could not be delivered
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

# More of what was typed says no more, characters.
MOST_SHOWN = 120


def printable(text: str) -> str:
    r"""A text in one line that no terminal acts upon: what can't be seen is spelled out.

    >>> print(printable("25 H7\n\x1b[31m ±"))
    25 H7\n\x1b[31m ±
    """
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong: where, what stands there, what would be right."""

    must: str
    got: str = ""
    key: str = ""
    place: str = ""
    hint: str = ""

    def at(self, *, key: str = "", place: str = "") -> Fault:
        """The same fault with the key or the place filled in where it has none.

        >>> str(Fault("a length is due", got="7 N").at(key="press.liner.hole"))
        'press.liner.hole: "7 N": a length is due'
        """
        return replace(self, key=self.key or key, place=self.place or place)

    def __str__(self) -> str:
        got = self.got if len(self.got) <= MOST_SHOWN else f"{self.got[:MOST_SHOWN]}..."
        quoted = f'"{got}"' if got else ""
        line = ": ".join(part for part in (self.place, self.key, quoted, self.must) if part)
        return printable(f"{line}; {self.hint}" if self.hint else line)


class FitsError(Exception):
    """Base of every error that fits raises on purpose.

    Attributes:
        faults: what is wrong, in the order in which it should be read.
    """

    def __init__(self, faults: Fault | Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = (faults,) if isinstance(faults, Fault) else tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def __reduce__(self) -> tuple[type[FitsError], tuple[tuple[Fault, ...]]]:
        return type(self), (self.faults,)


class InputError(FitsError, ValueError):
    """What was asked or typed is wrong."""


class TableError(FitsError, ValueError):
    """A table of ours is malformed."""


class DeliveryError(FitsError, OSError):
    """The answer could not be delivered."""


def nearest(name: str, known: Iterable[str]) -> str:
    """The known name that was most likely meant, or an empty text.

    A name that begins as typed comes first, then likeness.

    >>> nearest("lenght", ["hole", "length"])
    'length'
    >>> nearest("6061", ["7075-T6", "6061-T6"])
    '6061-T6'
    """
    names = sorted(set(known))
    lowered = name.lower()
    for candidate in names:
        if lowered and candidate.lower().startswith(lowered):
            return candidate
    from difflib import get_close_matches  # only needed when something is wrong

    by_lower = {candidate.lower(): candidate for candidate in names}
    close = get_close_matches(lowered, by_lower, n=1, cutoff=0.6)
    return by_lower[close[0]] if close else ""


def meant(name: str, known: Iterable[str]) -> str:
    """The hint "did you mean ...?" for an unknown name, or an empty text."""
    near = nearest(name, known)
    return f'did you mean "{near}"?' if near else ""
