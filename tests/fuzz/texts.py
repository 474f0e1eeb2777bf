"""Texts near valid ones: pieces of a grammar taken away, doubled, moved, joined, put in another's place."""

from __future__ import annotations

import re
from collections.abc import Callable

from fuzz.doors import Door
from hypothesis import strategies as st

_TOKENS = re.compile(r"\d+|[^\W\d]+|\s+|.", re.DOTALL)
# What breaks readers of numbers and of text.
NASTY = ("0", "-0", "1e999", "1e-999", "9" * 400, "9" * 5000, "0.0000000000001", "1e15", "1E0", "nan", "-inf", "٣", "²", "½", "1_000", "0x10", "++1", "1..2", "1,5",
         "1 000", "\0", "\x1b[31m", "\x85", "\u2028", "\udcff", "𝟏", "%s", "{0}", "'", "\\", "\n", "\r", "\t", "\u202e", "é", "()", "(" * 40, "[" * 2000, "." * 50)

Draw = Callable[[int], int]


def pieces(text: str) -> list[str]:
    """A text as numbers, words, spaces and signs."""
    return _TOKENS.findall(text)


def mutated(tokens: list[str], other: list[str], words: tuple[str, ...], below: Draw) -> list[str]:
    """Some pieces changed in one way; ``below(n)`` is a number from 0 to n - 1."""
    at = below(len(tokens) + 1)
    how = below(9)
    if how == 0:
        return tokens[:at] + tokens[at + 1 + below(3) :]
    if how == 1:
        return tokens[:at] + tokens[at : at + 1] * (2 + below(3)) + tokens[at + 1 :]
    if how == 2:
        return [*tokens[:at], words[below(len(words))], *tokens[at + below(2) :]]
    if how == 3:
        return [*tokens[:at], NASTY[below(len(NASTY))], *tokens[at + below(2) :]]
    if how == 4:
        start = below(len(other) + 1)
        return tokens[:at] + other[start : start + 1 + below(6)] + tokens[at + below(3) :]
    if how == 5:
        return [*tokens[:at], f"{below(10 ** (1 + below(6)))}", *tokens[at + below(2) :]]
    if how == 6:
        to = below(len(tokens) + 1)
        low, high = min(at, to), max(at, to)
        return tokens[:low] + tokens[low:high][::-1] + tokens[high:]
    if how == 7:
        return tokens[:at] + other[below(len(other) + 1) :]
    return [*tokens[:at], chr(below(0x250) if below(2) else 32 + below(95)), *tokens[at:]]


def texts(door: Door, *, small: bool = True) -> st.SearchStrategy[str]:
    """Texts for a door: its seeds with up to six changes each.

    ``small`` lets hypothesis find the smallest text of a fault; without it a text is one draw, which
    is several times as fast.
    """
    split = [pieces(seed) for seed in door.seeds]

    @st.composite
    def one(draw: st.DrawFn) -> str:
        source = draw(st.randoms(use_true_random=not small, note_method_calls=False))
        below = source.randrange
        tokens = split[below(len(split))]
        for _ in range(1 + below(1 + below(6))):
            tokens = mutated(tokens, split[below(len(split))], door.words, below)
        return "".join(tokens)

    return one()
