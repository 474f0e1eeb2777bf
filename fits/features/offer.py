"""What a field could be from what the shop owns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple


class Offer(NamedTuple):
    """What a field could be from what the shop owns: the fields it sets, and its ends in mm.

    ``remark`` says how well the ends are known, ``proven`` whether they are facts.
    """

    name: str
    fields: Mapping[str, Any]
    low: float
    high: float
    remark: str = ""
    proven: bool = False
