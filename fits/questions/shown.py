"""How a result shows itself in a notebook: as a table, and as one of pandas."""

from __future__ import annotations

from typing import Any, TypeVar

Result = TypeVar("Result", bound=type)


def in_notebooks(result: Result) -> Result:
    """Give a kind of result ``_repr_html_``, and ``frame`` where it has none of its own."""
    setattr(result, "_repr_html_", _html)  # noqa: B010
    if not hasattr(result, "frame"):
        setattr(result, "frame", _frame)  # noqa: B010
    return result


def _html(self: Any) -> str:
    """The result in a notebook, as a table."""
    from fits.report.notebook import table_of

    return table_of(self)


def _frame(self: Any) -> Any:
    """The result as a pandas table: the rows of its CSV, mm and report units."""
    from fits.report.records import frame_of

    return frame_of(self)
