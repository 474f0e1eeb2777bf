"""What a drawer offers: the tools, the best first, why one doesn't do, and what to buy."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fits import quantity
from fits.questions.answer import FAIL, Answer, CheckAnswer
from fits.questions.from_drawer import FromDrawer, Held, OfField
from fits.report import rows
from fits.report.data import rounded
from fits.report.terminal import columns, wrapped


def lines(answer: Answer, units: str) -> list[str]:
    """All that drawers offer, for the screen."""
    said: list[str] = []
    for one in answer.drawers:
        any_fits = any(held.verdict != FAIL for of in one.fields for held in of.held)
        head = "FROM THE DRAWER" if any_fits else "NOTHING TO CHOOSE FROM THE DRAWER"
        said += [""] if said or answer.features else []
        said += wrapped(f"{head} for {one.feature} ({one.place})", "  ", "")
        for of in one.fields:
            said += ["", f"  {_label(of)}", *_offers(of, units)]
            for held in of.held:
                if text := why(held, units, one.fit):
                    said += wrapped(text, "        ", f"    {held.name}: ")
            if of.to_buy:
                said += wrapped(f"buy: {of.to_buy}", "      ", "  ! ")
        for note in one.notes:
            said += wrapped(note, "    ", "  ! ")
        if one.window is not None:
            from fits.report import window_screen

            said += ["", *window_screen.window_lines(one.window, units)]
    return said


def _label(of: OfField) -> str:
    return of.field.replace("_", " ") + ("" if of.held else ": the drawer has none that is near")


def _offers(of: OfField, units: str) -> list[str]:
    cells = [
        [rows.VERDICT_WORDS[one.verdict], one.name, f"{_bare(one.low, units)} to {_mm(one.high, units)}"]
        for one in of.held
    ]
    return columns(cells, "llr", "    ")


def _mm(value: float, units: str) -> str:
    return quantity.show(value, "length", units=units)


def _bare(value: float, units: str) -> str:
    return _mm(value, units).rsplit(" ", 1)[0]


def why(held: Held, units: str, fit: str) -> str:
    """What comes of an offer beyond its verdict, in words."""
    said = [held.remark] if held.remark else []
    if held.room is not None:
        low, high = held.room
        if low < 0.0:
            said.append(f"may come {_mm(-low, units)} too small")
        if high < 0.0:
            said.append(f"may come {_mm(-high, units)} too large")
        if low >= 0.0 and high >= 0.0:
            said.append(f"room in the window {_mm(low, units)} below, {_mm(high, units)} above")
    if held.fit is not None:
        said.append(_fit(held.fit, units, fit))
    if held.check is not None:
        said.append(_rule(held.check, units))
    return "; ".join(said)


def _fit(ends: tuple[float, float], units: str, fit: str) -> str:
    """The fit it would make: ``0.0080 mm tight to 0.0055 mm loose``."""
    tight, loose = ("tight", "loose") if fit == "interference" else ("loose", "tight")
    least, most = (f"{_mm(abs(end), units)} {tight if end >= 0.0 else loose}" for end in ends)
    return f"{most} to {least}"


def _rule(check: CheckAnswer, units: str) -> str:
    row = rows.check_row(check, units)
    if check.verdict == FAIL:
        return f"{row.rule}: {row.worst}, {row.relation} {row.limit}"
    return f"{row.rule}: {check.break_even or check.why_not}"


def data(found: FromDrawer) -> dict[str, Any]:
    """The same as plain data, mm."""
    return {
        "of": found.feature,
        "drawer": found.place,
        "verdict": found.verdict,
        "unit": "mm",
        "fields": [
            {
                "field": of.field,
                "offers": [_offer(one, found.fit) for one in of.held],
                **({"buy": of.to_buy} if of.to_buy else {}),
            }
            for of in found.fields
        ],
        "notes": list(found.notes),
        **({"window": _window(found)} if found.window is not None else {}),
    }


def _window(found: FromDrawer) -> dict[str, Any]:
    from fits.report import windows

    assert found.window is not None
    return windows.window_data(found.window)


def _offer(one: Held, fit: str) -> dict[str, Any]:
    said: dict[str, Any] = {
        "name": one.name,
        "verdict": one.verdict,
        "min": rounded(one.low),
        "max": rounded(one.high),
        "known": one.remark,
    }
    if one.room is not None:
        said["room"] = [rounded(end) for end in one.room]
    if one.fit is not None:
        said[fit] = [rounded(end) for end in one.fit]
    if one.check is not None:
        said["why"] = _rule(one.check, "mm")
    return said


def csv_rows(found: FromDrawer) -> Iterator[dict[str, Any]]:
    """The same as rows of the CSV report."""
    for of in found.fields:
        for one in of.held:
            yield {
                "feature": found.feature,
                "row": f"drawer {of.field}",
                "name": one.name,
                "least": rounded(one.low),
                "greatest": rounded(one.high),
                "unit": "mm",
                "verdict": one.verdict,
                "text": why(one, "mm", found.fit),
            }
        if of.to_buy:
            yield {"feature": found.feature, "row": "buy", "name": of.field, "text": of.to_buy}
    for note in found.notes:
        yield {"feature": found.feature, "row": "notes", "text": note}
    if found.window is not None:
        from fits.report import windows

        yield from windows.window_rows(found.window)
