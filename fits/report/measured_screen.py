"""Measured parts and pairs on the screen: the verdicts first, then what to do with each part."""

from __future__ import annotations

from collections.abc import Iterator

from fits import quantity
from fits.questions.answer import Answer
from fits.questions.judge import EXPLAINED, KEPT
from fits.questions.judgement import ACCEPT, Judged, PartJudgement
from fits.questions.pairing import Pairing
from fits.report import measured, rows
from fits.report.terminal import columns, listed, wrapped


def lines(answer: Answer, units: str) -> list[str]:
    """What an answer says of measured parts."""
    found: list[str] = []
    name = rows.headline(answer)[1]
    if answer.judged is not None:
        found += _judged(answer.judged, name, units)
    if answer.pairing is not None:
        found += _pairing(answer.pairing, name, units)
    states = columns([[s.name, rows.state_text(s, units)] for s in answer.states], "ll", "    ")
    return [*found, "", "  Judged in the states", *states]


def _judged(judged: Judged, name: str, units: str) -> Iterator[str]:
    yield from wrapped(f"{measured.counts(judged)} of {judged.total}: {name}", "  ", "")
    if judged.left_out:
        yield f"  {judged.left_out:,} left out: a row of them is bad"
    yield ""
    cells = [["part", "drawing", "function", "verdict"]]
    for one in judged.parts:
        cells.append([one.part, one.drawing, measured.FUNCTION[one.function], one.verdict.upper()])
    yield from columns(cells, "llll") if judged.parts else ()
    if len(judged.parts) < judged.total:
        many = f"at most {KEPT:,} are listed, of those that aren't accepted"
        said = f"of a long table {many}; --csv and --json hold every part"
        yield from wrapped(said, "  ", "  ")
    for one in _shown(judged):
        yield from _part(one, units)
    yield from listed("Note", judged.notes)
    yield from listed("Caution", judged.cautions)


def _shown(judged: Judged) -> list[PartJudgement]:
    """All parts of a short table; of a long one those that aren't accepted, the first of them."""
    if judged.total <= EXPLAINED:
        return list(judged.parts)
    return [one for one in judged.parts if one.verdict != ACCEPT][:EXPLAINED]


def _part(one: PartJudgement, units: str) -> Iterator[str]:
    yield ""
    yield f"{one.part}: {one.verdict.upper()}"
    for size in one.sizes:
        yield from wrapped(measured.size_text(size, units), "    ", "  ")
        for word, text in measured.size_lines(size, units):
            yield from wrapped(text, " " * 14, f"    {word + ':':<10}")
    for word, text in measured.part_lines(one, units, brief=True):
        yield from wrapped(text, " " * 14, f"    {word + ':':<10}")
    for said, more in measured.check_lines(one, units):
        yield from wrapped(said, "      ", "    ! ")
        for word, text in more:
            yield from wrapped(text, " " * 11, f"      {word + ':':<5}")


def _pairing(found: Pairing, name: str, units: str) -> Iterator[str]:
    verdict = f"{len(found.pairs)} paired, {len(found.left)} left over: {found.feature} of {name}"
    yield from wrapped(f"REFUSED: {name}" if found.refused else verdict, "  ", "")
    if off := sum(bool(one.outside) for one in found.pairs):
        yield f"  {off} of the pairs {'has' if off == 1 else 'have'} a part outside its drawing"
    if found.left_out:
        yield f"  {len(found.left_out):,} left out: a row of them is bad"
    yield from listed("Refused", found.refused)
    if found.pairs:
        unit = quantity.sheet_unit("length", units=units)
        head = ["mark", "hole", "shaft", f"{found.fit}, {unit}", f"room, {unit}"]
        table = columns([head, *(measured.pair_row(one, units) for one in found.pairs)], "llllr")
        yield ""
        yield table[0]
        per_pair = (len(table) - 1) // len(found.pairs)
        for at, one in enumerate(found.pairs):
            yield from table[1 + at * per_pair : 1 + (at + 1) * per_pair]
            yield from wrapped(f"first to break: {measured.pair_rule(one)}", " " * 10, " " * 8)
            for text in measured.off_texts(one, units):
                yield from wrapped(text, " " * 10, "      ! ")
        said = f"hole is {found.hole}, shaft {found.shaft}; room is the {found.fit} left before a rule breaks"
        yield from wrapped(said, "  ", "  ")
    yield from listed("Left over", (measured.left_text(one, units) for one in found.left))
    yield from listed("Not covered, so that no pair can be made", found.not_covered)
    yield from listed("Note", found.notes)
    yield from listed("Caution", found.cautions)
