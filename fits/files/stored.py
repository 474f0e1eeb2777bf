"""Stored reports: JSON text -> plain data."""

from __future__ import annotations

import json
from typing import Any

from fits.errors import Fault, InputError


def is_report(text: str) -> bool:
    """Whether a text is JSON rather than a part file: no part file begins with a brace."""
    return text.lstrip().startswith("{")


def report_of(text: str, path: str) -> dict[str, Any]:
    """The data of a stored report.

    Raises:
        InputError: no JSON, at its line; or NaN, which no report holds.
    """

    def refuse(name: str) -> float:
        raise InputError(Fault(f"{name} stands in it: no report holds that", place=path))

    try:
        found: dict[str, Any] = json.loads(text, parse_constant=refuse)
    except json.JSONDecodeError as error:
        raise InputError(Fault(f"not JSON: {error.msg.lower()}", place=f"{path}:{error.lineno}")) from None
    except InputError:
        raise
    except ValueError:
        raise InputError(Fault("not JSON: a number that is too long", place=path)) from None
    except RecursionError:
        raise InputError(Fault("not JSON: nested too deeply", place=path)) from None
    return found
