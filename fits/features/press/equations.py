"""The numbers of a press fit, from its dimensions and states.

Lamé with axial stress, heat, speed and bore pressure (``mechanics``); signs and the
way from interference to holding as the trade takes them: no loss to roughness for
strength, the full loss for holding.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from math import pi
from typing import TYPE_CHECKING

import numpy as np

from fits.arrays import Array
from fits.features.feature import NotCovered, Outcome, States
from fits.features.parts import Material, material, wanted
from fits.features.press import bearing, joining, lasting, lifted, yielding
from fits.features.press.slices import each_slice, passing, total
from fits.materials.metals import Metal
from fits.mechanics import cylinder, loads
from fits.mechanics.spin import Spin

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

    Dimensions = Mapping[str, Array]


# Diametral loss over the sum of both Rz: 0.8, the cautious figure of DIN 7190:2001; equal
# to 3 (Ra_1 + Ra_2) at Rz = 3.75 Ra (Nguyen & Lam, EUREKA Physics and Engineering 2022, 5).
SMOOTHING = 0.8
FORCES = frozenset({"press_force", "push_out_force", "pressing_shaft", "pressing_hub"})
LIFTED = frozenset(value.name for value in lifted.VALUES)
RELEASE = frozenset({"release_temperature", "release_speed"})


def _needs(wanted: frozenset[str] | None, values: frozenset[str]) -> bool:
    """Whether any of some values is asked for."""
    return wanted is None or not wanted.isdisjoint(values)


def compute(press: Press, d: Dimensions, s: States, wanted: frozenset[str] | None = None) -> Outcome:
    """Every number of a press fit; see :meth:`Feature.compute`."""
    if press.slices:
        return each_slice(press, d, s, lambda of_each, states: _compute(press, of_each, states, wanted))
    return _compute(press, d, s, wanted)


def _compute(press: Press, d: Dimensions, s: States, wanted: frozenset[str] | None) -> Outcome:
    """The numbers of one hub outside, or of one in every slice (the first axis)."""
    numbers: dict[str, Array] = {"bare_interference": d["shaft"] - d["hole"]}
    if press.coating_hole is not None:
        numbers["coating_closes"] = 2.0 * d["coating_hole"] * d["coating_share"]
        d = {**d, "hole": d["hole"] - numbers["coating_closes"]}
    factor = d["safety_yield"]
    hub = material("hub", press.hub_material, s.hub_temperature, d, factor)
    inner = material("shaft", press.shaft_material, s.shaft_temperature, d, factor)
    numbers |= {"hub_allowed": hub.allowed, "shaft_allowed": inner.allowed}
    numbers |= {"hub_modulus": hub.modulus, "shaft_modulus": inner.modulus}
    numbers |= {"hub_strain": hub.strain, "shaft_strain": inner.strain}
    _limits(numbers, press, d, s)
    gaps = [*hub.gaps, *inner.gaps, *_missing(press, d, s), *lasting.numbers(numbers, press, d, s)]
    fluid = s.pressure * d["pressure_share"]
    bore = fluid if press.hollow else np.zeros_like(fluid)
    speed = s.speed * d["speed_share"]
    ends = d["ends"] if press.ends is not None else np.where(s.pressure > 0.0, d["ends"], 0.0)
    mismatch = inner.strain - hub.strain
    stuck = (ends == cylinder.STUCK) & press.grips_elsewhere(mismatch)
    if np.any(stuck):
        reason = "stuck ends: the temperature at which the parts gripped is known of a pressed joint only"
        mismatch = np.where(stuck, np.nan, mismatch)
        gaps.append(NotCovered("ends", reason, stuck))
    joint = cylinder.Joint(
        a=d["shaft_bore"] / 2.0 if press.hollow else np.zeros_like(d["hole"]),
        c=d["hole"] / 2.0,
        b=d["hub_outside"] / 2.0,
        e_i=inner.modulus,
        nu_i=press.shaft_material.poisson,
        e_o=hub.modulus,
        nu_o=press.hub_material.poisson,
        ends=ends,
        mismatch=mismatch,
    )
    _fit(numbers, press, d, hub, inner, joint, speed)
    dry = _contact(numbers, joint, bore, fluid)
    numbers["end_thrust"] = _thrust(press, d, joint, fluid)
    _stress(numbers, press, d, joint, bore, speed)
    # A sweep of the pressure begins where there is none.
    if _needs(wanted, LIFTED) and (wanted is not None or np.any(s.pressure > 0.0)):
        gaps += lifted.numbers(numbers, press, d, joint, (hub, inner), s)
    loaded = (bore > 0.0) | (speed != 0.0)
    yields = (hub.allowed * factor, inner.allowed * factor)
    gaps += yielding.lost(numbers, press, joint, yields, loaded, solve=_needs(wanted, yielding.VALUES))
    _diameters(numbers, press, d, hub, inner, joint, bore)
    bearing.numbers(numbers, press, d, s)
    _holding(numbers, press, d, dry)
    gaps += _assembly(numbers, press, d, joint, wanted)
    return Outcome(numbers, tuple(gap for gap in gaps if gap.mask.any()))


def _limits(numbers: dict[str, Array], press: Press, d: Dimensions, s: States) -> None:
    """What some values are held against: NaN where it isn't known."""
    unknown = float("nan")
    for part, metal in (("hub", press.hub_material), ("shaft", press.shaft_material)):
        ultimate = unknown if metal.ultimate is None else metal.ultimate
        numbers[f"{part}_brittle_allowed"] = np.array([ultimate / 2.0])
    ceiling = bearing.ceiling(press, press.hub_material.heating_limit)
    numbers["hub_heating_limit"] = np.array([ceiling])
    if press.bore_after is not None:
        ends = wanted(press.bore_after, d["bore_after"])
        numbers["bore_after_least"], numbers["bore_after_most"] = ends


def _missing(press: Press, d: Dimensions, s: States) -> list[NotCovered]:
    """Inputs that were not given and that no table has."""
    every = np.ones(len(s.names), dtype=bool)
    found = []
    if press.roughness_hole is None or press.roughness_shaft is None:
        which = " and ".join(
            name for name in ("roughness_hole", "roughness_shaft") if getattr(press, name) is None
        )
        reason = f"{which} not given (values are shown without any loss to roughness)"
        found.append(NotCovered("roughness_loss", reason, every, "roughness_loss"))
    for name in ("friction_hold", "friction_press"):
        if np.isnan(d[name]).all():
            reason = f"no friction of {press.pair_text} in the table; give {name}"
            found.append(NotCovered(name, reason, every, name))
    for part, metal, temperature in (
        ("hub", press.hub_material, s.hub_temperature),
        ("shaft", press.shaft_material, s.shaft_temperature),
    ):
        if metal.ultimate is None:
            found.append(NotCovered(f"{part}_ultimate", f"{metal.name}: no ultimate strength", every))
        elif "ultimate_strength" not in metal.typed:
            # The table's strength is that of the room; a brittle metal is worse in the cold.
            beyond = (temperature < 0.0) | (temperature > (metal.max_service or 100.0))
            reason = f"{metal.name}: no ultimate strength at that temperature"
            found.append(NotCovered(f"{part}_ultimate", reason, beyond))
    if np.isnan(bearing.ceiling(press, press.hub_material.heating_limit)):
        reason = f"{press.hub_material.name}: no highest temperature for heating in the table"
        found.append(NotCovered("hub_heating_limit", reason, every))
    if press.length is None and not press.slices:
        found.append(NotCovered("length", "length not given", every, "length"))
    for part, metal in (("hub", press.hub_material), ("shaft", press.shaft_material)):
        if metal.density is None:
            turning = np.broadcast_to(s.speed != 0.0, np.broadcast_shapes(s.speed.shape, every.shape))
            found.append(NotCovered(f"{part}_density", f"{metal.name}: no density", turning))
    return found


def _density(metal: Metal) -> float:
    return np.nan if metal.density is None else metal.density


def _opening(press: Press, joint: cylinder.Joint, e_i: Array, e_o: Array, speed: Array) -> Array:
    """How far the hub's bore grows away from the inner part at speed, radial, mm."""
    hub = Spin(joint.nu_o, _density(press.hub_material), speed)
    inner = Spin(joint.nu_i, _density(press.shaft_material), speed)
    return hub.bore_growth(joint.c, joint.b, e_o) - inner.outside_growth(joint.a, joint.c, e_i)


def _fit(
    numbers: dict[str, Array],
    press: Press,
    d: Dimensions,
    hub: Material,
    inner: Material,
    joint: cylinder.Joint,
    speed: Array,
) -> None:
    """Interference as made and as it acts, all diametral."""
    numbers["interference"] = d["shaft"] - d["hole"]
    loss = np.zeros_like(speed)
    if np.any(speed):
        loss = 2.0 * _opening(press, joint, joint.e_i, joint.e_o, speed)
    numbers["speed_loss"] = loss
    over = d["overspeed_factor"]
    heat_gain = d["hole"] * (inner.strain - hub.strain)
    numbers["heat_gain"] = heat_gain
    if press.roughness_hole is not None and press.roughness_shaft is not None:
        depth = d["roughness_hole"] + d["roughness_shaft"]
        numbers["roughness_loss"] = d["roughness_share"] * SMOOTHING * depth / 1000.0
    else:
        numbers["roughness_loss"] = d["roughness_loss"]
    numbers["effective_interference"] = numbers["interference"] + heat_gain - loss - numbers["roughness_loss"]
    numbers["overspeed_interference"] = numbers["effective_interference"] - loss * (over * over - 1.0)


def _contact(numbers: dict[str, Array], joint: cylinder.Joint, bore: Array, fluid: Array) -> Array:
    """Contact pressure, and the fluid pressure that would lift the inner part; returns the dry one."""
    radial = numbers["effective_interference"] / 2.0
    contact = joint.contact()
    numbers["contact_pressure"] = np.maximum(contact.at(radial, bore), 0.0)
    numbers["fluid_pressure"] = fluid
    numbers["lift_pressure"] = contact.lift(radial)
    return np.maximum(contact.at(radial, np.zeros_like(bore)), 0.0)


def _stress(
    numbers: dict[str, Array],
    press: Press,
    d: Dimensions,
    joint: cylinder.Joint,
    bore: Array,
    speed: Array,
) -> None:
    """Hoop, axial and comparison stresses at the four faces; load and torque pass through both parts."""
    contact = numbers["contact_pressure"]
    axial_i, axial_o = joint.axial_stress(contact, bore)
    numbers["axial_i"], numbers["axial_o"] = axial_i, axial_o
    at_hole, outside = cylinder.face_hoops(inside=joint.c, outside=joint.b, p_in=contact, p_out=0.0)
    at_bore, surface = cylinder.face_hoops(inside=joint.a, outside=joint.c, p_in=bore, p_out=contact)
    radial = -bore if press.hollow else -contact
    centre = np.zeros_like(speed)
    if np.any(speed):
        hub_density, density = _density(press.hub_material), _density(press.shaft_material)
        c, b = joint.c, joint.b
        of_hub = Spin(joint.nu_o, hub_density, speed)
        of_inner = Spin(joint.nu_i, density, speed)
        at_hole = at_hole + of_hub.hoop_at_bore(c, b)
        outside = outside + of_hub.hoop_outside(c, b)
        surface = surface + of_inner.hoop_outside(joint.a, c)
        at_bore = at_bore + of_inner.hoop_at_bore(joint.a, c)
        centre = of_inner.centre_of_solid(c)
    numbers["hub_hoop_at_hole"], numbers["hub_hoop_outside"] = at_hole, outside
    numbers["shaft_hoop_at_surface"] = surface
    load = _through(press, d, joint, bore, numbers["end_thrust"])
    hub, inner = loads.Section(joint.c, joint.b), loads.Section(joint.a, joint.c)
    numbers["hub_von_mises"] = hub.mises(-contact, at_hole, axial_o, load, joint.c)
    at_surface = inner.mises(-contact, surface, axial_i, load, joint.c)
    pulled = axial_i + load.along / inner.area
    numbers["shaft_tension"] = np.maximum(np.maximum(at_bore, surface), pulled)
    if press.hollow:
        numbers["shaft_hoop_at_bore"] = at_bore
        at_inside = inner.mises(radial, at_bore, axial_i, load, joint.a)
        numbers["shaft_von_mises"] = np.maximum(at_inside, at_surface)
    else:
        middle = inner.mises(centre - contact, centre - contact, axial_i, load, np.zeros_like(joint.c))
        numbers["shaft_von_mises"] = np.maximum(middle, at_surface)


def _thrust(press: Press, d: Dimensions, joint: cylinder.Joint, fluid: Array) -> Array:
    """What the fluid pushes along the axis that the joint must hold, N."""
    sealed = d["thrust_diameter"] if press.thrust_diameter is not None else d["hole"]
    thrust = pi / 4.0 * sealed * sealed * fluid
    if not press.hollow:
        return thrust
    pushed = (joint.ends == cylinder.LINER) | (joint.ends == cylinder.STUCK)
    return np.where(pushed, thrust, 0.0)


def _through(press: Press, d: Dimensions, joint: cylinder.Joint, bore: Array, thrust: Array) -> loads.Load:
    """Load and torque that pass through both parts, beyond the thrust that the ends count."""
    along = d["axial_load"]
    if press.thrust_diameter is not None or not press.hollow:
        along = along + np.maximum(thrust - pi * joint.a * joint.a * bore, 0.0)
    return loads.Load(along, d["torque"])


def _diameters(
    numbers: dict[str, Array],
    press: Press,
    d: Dimensions,
    hub: Material,
    inner: Material,
    joint: cylinder.Joint,
    bore: Array,
) -> None:
    """How much the bore closes and the outside grows, and both sizes in every state."""
    grown = cylinder.face_strain(
        radial=np.zeros_like(bore),
        hoop_stress=numbers["hub_hoop_outside"],
        axial=numbers["axial_o"],
        e=joint.e_o,
        nu=joint.nu_o,
    )
    numbers["outside_growth"] = d["hub_outside"] * grown
    numbers["outside_in_state"] = d["hub_outside"] * (1.0 + hub.strain) + numbers["outside_growth"]
    if not press.hollow:
        return
    closed = cylinder.face_strain(
        radial=-bore,
        hoop_stress=numbers["shaft_hoop_at_bore"],
        axial=numbers["axial_i"],
        e=joint.e_i,
        nu=joint.nu_i,
    )
    numbers["bore_closure"] = -d["shaft_bore"] * closed
    numbers["bore_in_state"] = d["shaft_bore"] * (1.0 + inner.strain) - numbers["bore_closure"]
    numbers["fitted_bore"] = numbers["bore_in_state"][..., -1:]


def _holding(
    numbers: dict[str, Array],
    press: Press,
    d: Dimensions,
    dry: Array,
) -> None:
    """What the joint holds and what it must hold, N and N*mm.

    Bore pressure helps the grip and is not relied on: the lesser of both contact pressures
    holds against the whole thrust.
    """
    area = pi * d["hole"] * d["length"]
    numbers["holding_pressure"] = np.minimum(numbers["contact_pressure"], dry)
    if "grip_after_yield" in numbers:
        numbers["capacity_after_yield"] = total(
            press, d["friction_hold"] * numbers["grip_after_yield"] * area
        )
    capacity = total(press, d["friction_hold"] * numbers["holding_pressure"] * area)
    numbers["axial_capacity"] = capacity
    numbers["torque_capacity"] = capacity * d["hole"] / 2.0
    along = d["axial_load"] + numbers["end_thrust"]
    around = 2.0 * d["torque"] / d["hole"]
    numbers["slip_demand"] = d["safety_slip"] * np.sqrt(along * along + around * around)


def _pressing(joint: cylinder.Joint, grip: Array, force: Array) -> tuple[Array, Array]:
    """Inner part and hub: comparison stress at the end of the stroke, where the whole force enters."""
    hub, inner = loads.Section(joint.c, joint.b), loads.Section(joint.a, joint.c)
    zero = np.zeros_like(grip)
    _, surface = cylinder.face_hoops(inside=joint.a, outside=joint.c, p_in=zero, p_out=grip)
    push = force / inner.area
    at_bore = 2.0 * grip * joint.c * joint.c / cylinder.ring_area(joint.a, joint.c)
    inside = cylinder.von_mises(zero, -at_bore, -push)
    outside = cylinder.von_mises(-grip, surface, -push)
    hoop = grip * cylinder.spread(joint.c, joint.b)
    of_hub = cylinder.von_mises(-grip, hoop, -force / hub.area)
    return np.maximum(np.maximum(inside, outside), push), of_hub


def _assembly(
    numbers: dict[str, Array],
    press: Press,
    d: Dimensions,
    joint: cylinder.Joint,
    wanted: frozenset[str] | None,
) -> list[NotCovered]:
    """Forces to press in and out, temperatures to join and to come loose, lift-off speed."""
    e_i, e_o = joint.e_i[..., -1:], joint.e_o[..., -1:]
    gaps = []
    if _needs(wanted, FORCES):
        _forces(numbers, press, d, joint, e_i, e_o)
    if _needs(wanted, joining.VALUES):
        gaps += [*joining.temperatures(numbers, press, d), *joining.clock(numbers, press, d, joint)]
    if _needs(wanted, RELEASE):
        gaps += [*joining.release(numbers, press, d), *_release_speed(numbers, press, joint, e_i, e_o)]
    return [gap for gap in gaps if gap.mask.any()]


def _forces(
    numbers: dict[str, Array], press: Press, d: Dimensions, joint: cylinder.Joint, e_i: Array, e_o: Array
) -> None:
    """Forces to press in and out, and the stress while pressing."""
    area = pi * d["hole"] * d["length"]

    def stiff(b: Array) -> Array:
        return cylinder.compliance(
            a=joint.a, c=joint.c, b=b, e_i=e_i, nu_i=joint.nu_i, e_o=e_o, nu_o=joint.nu_o
        )

    per_radial = stiff(joint.b)
    radial = np.maximum(numbers["interference"], 0.0) / 2.0
    dry = radial / per_radial
    force = d["friction_press"] * dry * area
    numbers["press_force"] = total(press, force)
    through = passing(press, force, lambda b: d["friction_press"] * radial / stiff(b / 2.0) * area)
    pressing = [_pressing(joint, dry, one) for one in through]
    numbers["pressing_shaft"] = reduce(np.maximum, (of_shaft for of_shaft, _ in pressing))
    numbers["pressing_hub"] = reduce(np.maximum, (of_hub for _, of_hub in pressing))
    mu = d["friction_hold"] + d["friction_share"] * (d["friction_press"] - d["friction_hold"])
    smoothed = np.maximum(numbers["interference"] - numbers["roughness_loss"], 0.0) / 2.0 / per_radial
    numbers["push_out_force"] = total(press, mu * smoothed * area)


def _release_speed(
    numbers: dict[str, Array], press: Press, joint: cylinder.Joint, e_i: Array, e_o: Array
) -> list[NotCovered]:
    """The speed at which the hub has grown away."""
    opening = _opening(press, joint, e_i, e_o, np.ones_like(e_i))
    left = np.maximum(numbers["interference"] - numbers["roughness_loss"], 0.0) / 2.0
    with np.errstate(invalid="ignore", divide="ignore"):
        numbers["release_speed"] = np.where(opening > 0.0, np.sqrt(left / opening), np.nan)
    shape = numbers["release_speed"].shape
    never = np.broadcast_to(opening <= 0.0, shape)
    unknown = np.broadcast_to(np.isnan(opening), shape)
    return [
        NotCovered("release_speed", "the hub does not grow away at speed", never),
        NotCovered("release_speed", "speed at which it comes loose: no density", unknown),
    ]
