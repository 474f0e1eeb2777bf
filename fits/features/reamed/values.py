"""The values of a reamed hole."""

from __future__ import annotations

from fits.features.feature import Value
from fits.features.parts import GEOMETRY, PRACTICE
from fits.features.value import value
from fits.features.when import AS_MADE
from fits.shop import reamers
from fits.tables import Source

GUARD = Source("ISO 14253-1: a tolerance less the uncertainty (k = 2) at each limit", "memory")
ISO_PLUGS = Source("ISO/R 1938: GO = K + z ± H/2, NO-GO = G ± H/2, worn GO = K - y")
PAIR = Source("GO plus and NO-GO minus: a hole between them passes whatever the gauges are", "derived")


def _value(
    name: str,
    label: str,
    equation: str,
    source: Source,
    uses: tuple[str, ...],
    *,
    kind: str = "length",
    digits: int | None = None,
    shown: bool = True,
) -> Value:
    """A value at 20 degC."""
    return value(name, label, kind, equation, source, uses, AS_MADE, digits=digits, shown=shown)


_DRILLED = ("reamer", "drill", "drill_oversize", "drilled_share", "bored_to")

VALUES = (
    _value("reamer", "reamer", "the reamer, or the band to choose one from", reamers.RULE, ("reamer",)),
    _value(
        "hole",
        "expected hole, a range, no promise",
        "reamer + what it cuts over",
        GEOMETRY,
        ("reamer", "cuts_over", "gain_share"),
    ),
    _value(
        "cut_hole", "hole by its trials", "reamer + cuts_over", GEOMETRY, ("reamer", "cuts_over"), shown=False
    ),
    _value("ream_from", "reamed hole, least", "hole + later steps", GEOMETRY, (), shown=False),
    _value("ream_to", "reamed hole, most", "hole + later steps", GEOMETRY, (), shown=False),
    _value("reamer_from", "least reamer", "greatest - 0.35 IT, rounded up", reamers.RULE, (), shown=False),
    _value("reamer_to", "greatest reamer", "hole - 0.15 IT, rounded up", reamers.RULE, (), shown=False),
    _value(
        "drill", "drill", "named, or from the standard series by the stock it leaves", PRACTICE, ("drill",)
    ),
    _value(
        "reaming_stock",
        "stock for the reamer, on the diameter",
        "reamer - hole before it",
        GEOMETRY,
        _DRILLED,
    ),
    _value(
        "clean_up",
        "least stock by the drill's trials",
        "reamer - drill - oversize",
        GEOMETRY,
        _DRILLED,
        shown=False,
    ),
    _value(
        "stock_limit",
        "most stock",
        "1/32 in, of a small reamer twice what is printed for it, or the upper end of the usual",
        PRACTICE,
        (),
        shown=False,
    ),
    _value(
        "depth_in_diameters",
        "depth in diameters",
        "depth / hole",
        GEOMETRY,
        ("depth",),
        kind="number",
        digits=1,
        shown=False,
    ),
    _value(
        "wall_in_diameters",
        "wall in diameters",
        "wall / hole",
        GEOMETRY,
        ("wall",),
        kind="number",
        shown=False,
    ),
    _value("lead", "lead of the reamer", "typed", GEOMETRY, ("reamer_lead",), shown=False),
    _value("room", "room below the reamed depth", "typed", GEOMETRY, ("runout_room",), shown=False),
    _value(
        "final_hole",
        "hole after coating and pressing",
        "hole - 2 coat share - closing",
        GEOMETRY,
        ("cut_hole", "coating_hole", "coating_share", "closes", "order"),
        shown=False,
    ),
    _value("hole_from", "hole, least", "typed", GEOMETRY, (), shown=False),
    _value("hole_to", "hole, most", "typed", GEOMETRY, (), shown=False),
    _value(
        "go", "GO gauge", "class or pin at the lower limit", PAIR, ("gauge_share", "go_pin", "gauge_class")
    ),
    _value(
        "no_go",
        "NO-GO gauge",
        "class or pin at the upper limit",
        PAIR,
        ("gauge_share", "no_go_pin", "gauge_class"),
    ),
    _value(
        "sure_pass",
        "band of holes sure to pass the gauges",
        "least NO-GO - greatest GO",
        PAIR,
        ("go", "no_go"),
    ),
    _value(
        "go_share",
        "the GO gauge eats of the tolerance",
        "(greatest GO - lower limit) / tolerance",
        PAIR,
        ("go",),
        kind="number",
    ),
    _value(
        "no_go_share",
        "the NO-GO gauge eats of the tolerance",
        "(upper limit - least NO-GO) / tolerance",
        PAIR,
        ("no_go",),
        kind="number",
    ),
    _value("iso_go", "GO plug by ISO/R 1938", "K + z ± H/2", ISO_PLUGS, ("gauge_share",)),
    _value("iso_no_go", "NO-GO plug by ISO/R 1938", "G ± H/2", ISO_PLUGS, ("gauge_share",)),
    _value("iso_go_worn", "its GO plug, worn out at", "K - y", ISO_PLUGS, ()),
    _value(
        "provable", "tolerance the instrument can prove", "tolerance - 2 U", GUARD, ("gauge_uncertainty",)
    ),
)
