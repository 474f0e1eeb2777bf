"""Each value at its greatest, written out so that a hand can check it."""

from __future__ import annotations

import numpy as np

from fits import quantity
from fits.features.feature import numbers
from fits.questions.evaluate import Evaluation
from fits.questions.ranges import column_name, spread_out


def workings(evaluation: Evaluation) -> tuple[str, ...]:
    """Each value where it is greatest: equation, numbers put in, result, source."""
    lines = []
    kind = type(evaluation.feature)
    labels = {value.name: value for value in kind.values}
    fields = numbers(kind)
    for value in kind.values:
        array = evaluation.numbers.get(value.name)
        if array is None or not value.shown:
            continue
        wide = spread_out(array, evaluation.states)
        flat = np.where(evaluation.states.columns(value.when), wide, np.nan).reshape(-1, wide.shape[-1])
        if not np.isfinite(flat).any():
            continue
        corner, column = np.unravel_index(int(np.nanargmax(flat)), flat.shape)
        put_in = []
        for name in value.uses:
            number = _number_at(evaluation, name, int(corner), int(column))
            if number is None or np.isnan(number):
                continue
            of = labels.get(name)
            field = fields.get(name)
            if of is not None:
                put_in.append(f"{name} {quantity.show(number, of.kind, of.digits + 1)}")
            elif field is not None:
                put_in.append(f"{name} {quantity.show(number, field.quantity, field.digits + 1)}")
            else:
                put_in.append(f"{name} {number:g}")
        shown = quantity.show(float(flat[corner, column]), value.kind, value.digits + 1)
        where = column_name(value, evaluation.states.names, int(column))
        lines.append(
            f"{value.label} ({where}): {value.equation}; {', '.join(put_in)} -> {shown} [{value.source}]"
        )
    return tuple(lines)


def _number_at(evaluation: Evaluation, name: str, corner: int, column: int) -> float | None:
    array = evaluation.numbers.get(name, evaluation.put_in.get(name))
    if array is None:
        return None
    wide = np.broadcast_to(array, np.broadcast_shapes(array.shape, (1, len(evaluation.states.names))))
    flat = wide.reshape(-1, wide.shape[-1])
    return float(flat[corner % len(flat), column])
