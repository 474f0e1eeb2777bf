"""What a number field takes, exactly on its bound and just beside it.

The bounds are those of the trade: a length, load or clearance isn't below 0, a friction of 0 holds
nothing, a factor below 1 is no safety, a hub is heated and an inner part chilled from the room's
20 degC, nothing is colder than -273.15 degC.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from fits.errors import InputError
from fits.features.bonded import Bonded
from fits.features.compound import Compound
from fits.features.dowel import Dowel
from fits.features.elastomer_field import TypedElastomer
from fits.features.feature import declared
from fits.features.fields import Context, Field, Measure, Numeric
from fits.features.press import Press
from fits.features.running import Running
from fits.features.typed_metal import TypedMetal

LIBRARY = Context(bare_numbers=True)
NONE = -math.inf
# A step beside a bound: relative to it, absolute at 0.
STEP = 1e-9

NOT_NEGATIVE, ABOVE_0, FACTOR, HOTTER = (0.0, False), (0.0, True), (1.0, False), (20.0, False)
FREE = (NONE, False)

# Kind, field: (least, whether only above it), most; quantity (mm, N, degC, MPa ...).
PRESS = {
    "friction_hold": (ABOVE_0, 1.0, "number"),
    "friction_press": (ABOVE_0, 1.0, "number"),
    "roughness_hole": (NOT_NEGATIVE, math.inf, "roughness"),
    "roughness_shaft": (NOT_NEGATIVE, math.inf, "roughness"),
    "axial_load": (NOT_NEGATIVE, math.inf, "force"),
    "torque": (NOT_NEGATIVE, math.inf, "torque"),
    "interference_at_least": (NOT_NEGATIVE, math.inf, "length"),
    "press_rating": (NOT_NEGATIVE, math.inf, "force"),
    "oven": (HOTTER, math.inf, "temperature"),
    "joining_clearance": (ABOVE_0, math.inf, "length"),
    "internal_clearance": (NOT_NEGATIVE, math.inf, "length"),
    "cracking_stress": (ABOVE_0, math.inf, "pressure"),
    "coating_hole": (NOT_NEGATIVE, math.inf, "length"),
    "coating_share": (NOT_NEGATIVE, 1.0, "number"),
    "heat_to": (HOTTER, math.inf, "temperature"),
    "chill_to": ((-273.15, False), 20.0, "temperature"),
    "carry_time": (ABOVE_0, math.inf, "time"),
    "form_hole": (NOT_NEGATIVE, math.inf, "length"),
    "form_shaft": (NOT_NEGATIVE, math.inf, "length"),
    "gauge_uncertainty": (NOT_NEGATIVE, math.inf, "length"),
    "safety_yield": (FACTOR, math.inf, "number"),
    "safety_slip": (FACTOR, math.inf, "number"),
    "overspeed_factor": (FACTOR, math.inf, "number"),
}
COMPOUND = {
    **{name: PRESS[name] for name in (
        "roughness_hole", "roughness_shaft", "friction_hold", "axial_load", "torque", "interference_at_least",
        "joining_clearance", "safety_yield", "safety_slip",
    )},
}  # fmt: skip
BONDED = {
    **{name: PRESS[name] for name in ("axial_load", "torque", "form_hole", "form_shaft", "gauge_uncertainty", "safety_yield")},
    "gap_least": (NOT_NEGATIVE, math.inf, "length"),
    "gap_most": (ABOVE_0, math.inf, "length"),
    "bond_shear": (ABOVE_0, 200.0, "pressure"),
    "bond_heat": (FREE, 400.0, "temperature"),
    "bond_strain": (ABOVE_0, 10.0, "number"),
    "safety_bond": (FACTOR, math.inf, "number"),
}
RUNNING = {
    # A clearance asked may be an interference: a transition is asked below 0.
    "clearance_at_least": (FREE, math.inf, "length"),
    "clearance_at_most": (FREE, math.inf, "length"),
    **{name: PRESS[name] for name in ("form_hole", "form_shaft", "gauge_uncertainty", "safety_yield")},
}
DOWEL = {"spacing_error": (NOT_NEGATIVE, math.inf, "length")}
METAL = {
    # From plastics to tungsten carbide, to the strongest wire, from foam to osmium: beyond is a slip of unit.
    "youngs_modulus": ((300.0, False), 750e3, "pressure"),
    # An isotropic solid has a Poisson's ratio up to 0.5.
    "poisson": (NOT_NEGATIVE, 0.5, "number"),
    "yield_strength": (ABOVE_0, 6000.0, "pressure"),
    "ultimate_strength": (ABOVE_0, 6000.0, "pressure"),
    "expansion": ((-1e-4, False), 1e-3, "expansion"),
    "density": ((100.0, False), 25000.0, "density"),
}
ELASTOMER = {
    "lowest": ((-273.15, False), math.inf, "temperature"),
    "highest": (FREE, 400.0, "temperature"),
    "tr10": ((-273.15, False), 100.0, "temperature"),
    "expansion": (NOT_NEGATIVE, 1e-3, "expansion"),
}
EVERY = [
    pytest.param(kind, name, *one, id=f"{kind.__name__}.{name}")
    for kind, of in (
        (Press, PRESS), (Compound, COMPOUND), (Bonded, BONDED), (Running, RUNNING), (Dowel, DOWEL),
        (TypedMetal, METAL), (TypedElastomer, ELASTOMER),
    )
    for name, one in of.items()
]  # fmt: skip


def field_of(kind: Any, name: str) -> Numeric:
    found = next(mark for mark in kind.model_fields[name].metadata if isinstance(mark, Field))
    assert isinstance(found, Numeric)
    return found


def takes(field: Numeric, value: float) -> bool:
    try:
        found = field.parse(value, LIBRARY)
    except InputError:
        return False
    assert (found.low, found.high) == (value, value)
    return True


@pytest.mark.parametrize(("kind", "name", "least", "most", "quantity"), EVERY)
def test_a_field_takes_its_bound_and_nothing_beyond(
    kind: Any, name: str, least: tuple[float, bool], most: float, quantity: str
):
    field = field_of(kind, name)
    assert field.quantity == quantity
    bound, above = least
    if bound > NONE:
        step = STEP * (abs(bound) or 1.0)
        assert takes(field, bound) is not above
        assert takes(field, bound + step)
        assert not takes(field, bound - step)
    else:
        assert takes(field, -900.0)
    if most < math.inf:
        assert takes(field, most)
        assert not takes(field, most + STEP * most)
    else:
        assert takes(field, 1e6)


@pytest.mark.parametrize("kind", [Press, Compound, Bonded, Running, Dowel])
def test_no_measure_of_a_kind_is_left_out_here(kind: Any):
    listed = {Press: PRESS, Compound: COMPOUND, Bonded: BONDED, Running: RUNNING, Dowel: DOWEL}[kind]
    assert {name for name, field in declared(kind).items() if isinstance(field, Measure)} == set(listed)


@pytest.mark.parametrize("form", ["piston", "rod", "face"])
@pytest.mark.parametrize(("name", "most"), [("side_angle", 30.0), ("backup_rings", 2.0)])
def test_the_bounds_of_a_groove(form: str, name: str, most: float):
    from fits.features.kinds import kind

    field = field_of(kind(f"gland {form}"), name)
    for value, fits in ((0.0, True), (-STEP, False), (most, True), (most + STEP * most, False)):
        assert takes(field, value) is fits
    assert field.digits == {"side_angle": 1, "backup_rings": 0}[name]


def test_a_number_beyond_all_shops_is_refused():
    field = Measure("a force", quantity="force")
    assert takes(field, 1e15)
    assert takes(field, -1e15)
    for far in (1.000001e15, -1.000001e15, math.inf, math.nan):
        assert not takes(field, far)


def test_a_typed_metal_yields_unless_it_is_said_to_be_brittle():
    assert TypedMetal.model_fields["brittle"].default is False


def test_a_range_must_lie_between_the_bounds_whole():
    share = field_of(Press, "coating_share")
    assert share.parse("0 to 1", LIBRARY)[:2] == (0.0, 1.0)
    for beyond in ("-0.001 to 1", "0 to 1.001"):
        with pytest.raises(InputError, match="must be at least 0 and at most 1"):
            share.parse(beyond, LIBRARY)
    friction = field_of(Press, "friction_hold")
    with pytest.raises(InputError, match=r"must be above 0 and at most 1$"):
        friction.parse("0 to 0.2", LIBRARY)
    assert friction.parse("0.2 to 0.2", LIBRARY)[:2] == (0.2, 0.2)
    with pytest.raises(InputError, match="lower value first"):
        friction.parse("0.21 to 0.2", LIBRARY)


@pytest.mark.parametrize(("kind", "name", "refused", "says"), [
    (Press, "torque", -1.0, "must be at least 0 N*m"),
    (Press, "oven", 19.0, "must be at least 20 degC"),
    (TypedElastomer, "tr10", 101.0, "must be at least -273.15 degC and at most 100 degC"),
    (TypedMetal, "poisson", 0.51, "must be at least 0 and at most 0.5"),
])  # fmt: skip
def test_the_bound_is_said_with_its_unit(kind: Any, name: str, refused: float, says: str):
    with pytest.raises(InputError) as caught:
        field_of(kind, name).parse(refused, LIBRARY)
    assert caught.value.faults[0].must == says


# Where a sweep looks for an answer: by hand from what each help says.
@pytest.mark.parametrize(("kind", "name", "at", "least", "most"), [
    (Press, "hole", (10.0, 14.0), 6.0, 24.0),  # half to twice the middle
    (Press, "length", (30.0,), 0.03, 30000.0),  # a thousandth to a thousand times
    (Press, "friction_hold", (0.1, 0.3), 0.0002, 1.0),
    (Press, "torque", (0.0,), 0.0, 0.0),  # from nothing there is no scale
    (Press, "safety_yield", (2.0,), 1.0, 2000.0),  # never below its bound
    (Press, "coating_share", (0.4,), 0.0004, 1.0),  # never above it
    (Press, "oven", (150.0,), 20.0, 1000.0),
    (Press, "chill_to", (-70.0,), -273.15, 20.0),
])  # fmt: skip
def test_where_a_sweep_looks(kind: Any, name: str, at: tuple[float, ...], least: float, most: float):
    assert field_of(kind, name).search(at) == pytest.approx((least, most), rel=1e-12)
