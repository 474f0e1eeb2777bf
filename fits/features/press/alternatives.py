"""What else would hold the part where a press does not: what each would need."""

from __future__ import annotations

from collections.abc import Mapping
from math import pi, sqrt
from typing import TYPE_CHECKING

from fits import quantity
from fits.features.beside import Alternative, Need
from fits.features.feature import States
from fits.materials import bonds
from fits.tables import Source

if TYPE_CHECKING:
    from fits.features.press.declaration import Press

    Spans = Mapping[str, tuple[float, float]]

# Factors of common practice: on a bond, on the least yield under a shoulder, on bolts.
BOND, BEARS, BOLTS = 2.0, 1.5, 1.5
SHEAR = Source(f"even shear over pi d L, factor {BOND:g} on the bond", "practice")
RING = Source(f"force over the ring's area, least yield/{BEARS:g}", "practice")
BOLTED = Source(f"preload of all bolts {BOLTS:g} times the force", "practice")
_YIELDS = ("hub_allowed", "shaft_allowed")
GROWTH = Source("thermal strain of both parts from 20 degC on the hole's diameter", "derived")
STATICS = Source("statics", "derived")
# The span of what isn't known, or isn't there: it opens and pulls nothing.
NOTHING = (0.0, 0.0)


def alternatives(press: Press, spans: Spans, gaps: frozenset[str], states: States) -> tuple[Alternative, ...]:
    """Bonded slip fit, shoulder, flange, clamp, key and sleeve, as far as each could help."""
    # A hot yield that isn't known stands there as the cold one: it bears nothing.
    spans = {name: span for name, span in spans.items() if name not in gaps or name not in _YIELDS}
    found = [_bonded(press, spans, states)]
    force = _force(press, spans)
    if force > 0.0:
        found += [_shoulder(press, spans, force), _flanged(press, spans, force)]
    found.append(_clamp(press, force))
    if press.torque.high > 0.0:
        found.append(_key(press))
    if (lost := _lost(spans)) > 0.0:
        found.append(_sleeve(press, lost))
    return tuple(found)


def _force(press: Press, spans: Spans) -> float:
    """The force along the axis, without safety: load and end thrust, N."""
    return press.axial_load.high + spans.get("end_thrust", NOTHING)[1]


def _lost(spans: Spans) -> float:
    """The most that heat takes from the interference, mm; not above 0 where it takes nothing."""
    return -spans.get("heat_gain", NOTHING)[0]


def _bonded(press: Press, spans: Spans, states: States) -> Alternative:
    hottest = max(float(states.hub_temperature.max()), float(states.shaft_temperature.max()))
    needs = [Need("heat limit of the compound", hottest, "temperature", 0, "at least")]
    best, heat = bonds.reported("best gap"), bonds.reported("heat limit")
    unknown = [
        "gap window, strength hot and cure of the compound: its data sheet (people report gaps of "
        f"{best.low:.2f} to {quantity.show(best.high, 'length', 2)} ({best.low / 25.4:.3f} to "
        f"{best.high / 25.4:.3f} in), heat limits of "
        f"{heat.low:.0f} to "
        f"{quantity.show(heat.high, 'temperature')})"
    ]
    load = spans["slip_demand"][1] / press.safety_slip.high if "slip_demand" in spans else 0.0
    if load == 0.0:
        unknown.insert(0, "its strength: no load, torque or pressure is given")
    elif press.length is None:
        unknown.insert(0, "its strength: length not given")
    else:
        area = pi * press.hole.lower * press.length.lower
        label = f"shear strength when hottest, with factor {BOND:g},"
        needs.insert(0, Need(label, BOND * load / area, "pressure", 2, "at least"))
    if "heat_gain" not in spans:
        unknown.append("how far heat opens the gap")
    elif (lost := _lost(spans)) > 0.0:
        needs.append(Need("heat opens its gap by", lost, "length", 4))
    apart = max(abs(end) for end in spans.get("heat_gain", NOTHING)) / press.hole.nominal
    if apart > 0.0 and press.length is not None:
        slide = apart * press.length.upper / 2.0
        needs.append(Need("heat makes its ends slide by", slide, "length", 4))
    return Alternative("bonded slip fit", tuple(needs), tuple(unknown), SHEAR, "fits bonded -h")


def _allowed(press: Press, spans: Spans) -> tuple[float, list[str]]:
    """What the softer part bears, MPa (0 where unknown), and what is unknown of it."""
    parts = (("hub", press.hub_material), ("shaft", press.shaft_material))
    unknown = [f"least yield of {metal.name}" for _, metal in parts if metal.yield_minimum is None]
    if not unknown:
        missing = [metal.name for part, metal in parts if f"{part}_allowed" not in spans]
        unknown = [f"yield of {name} in some state" for name in missing]
    if unknown:
        return 0.0, unknown
    return min(spans[f"{part}_allowed"][0] for part, _ in parts) / BEARS, []


def _shoulder(press: Press, spans: Spans, force: float) -> Alternative:
    """A ring inside the hole that the inner part's end stands on."""
    needs = [Need("it takes along the axis", force, "force", 0)]
    allowed, unknown = _allowed(press, spans)
    inside = 0.0 if press.shaft_bore is None else press.shaft_bore.upper
    d = press.hole.lower
    if allowed > 0.0:
        left = d * d - 4.0 * force / (pi * allowed)
        if left > inside * inside:
            height = (d - sqrt(left)) / 2.0
            needs.append(Need("height beyond chamfer and corner radius", height, "length", 2, "at least"))
        else:
            unknown.append("no height is enough: the end of the inner part is too small for this force")
    return Alternative("shoulder", tuple(needs), (*unknown, _root(press, "its root")), RING)


def _flanged(press: Press, spans: Spans, force: float) -> Alternative:
    """A flange on the inner part, trapped between body and cover."""
    needs = [Need("it takes along the axis", force, "force", 0)]
    allowed, unknown = _allowed(press, spans)
    d = press.hole.upper
    if allowed > 0.0:
        outside = sqrt(d * d + 4.0 * force / (pi * allowed))
        thick = force * sqrt(3.0) / (pi * press.shaft.lower * allowed)
        needs.append(Need("outside of the flange, beyond the chamfer", outside, "length", 2, "at least"))
        needs.append(Need("its thickness, by shear alone", thick, "length", 2, "at least"))
    return Alternative("flanged inner part", tuple(needs), (*unknown, _root(press, "the flange")), RING)


def _root(press: Press, where: str) -> str:
    turn = "; it holds no torque" if press.torque.high > 0.0 else ""
    return f"bending and corner stress of {where}{turn}"


def _clamp(press: Press, force: float) -> Alternative:
    turn = "; friction of the flange is not counted for torque" if press.torque.high > 0.0 else ""
    if force == 0.0:
        return Alternative("bolted flange or split clamp", (), ("no force along the axis is given",), BOLTED)
    needs = (
        Need("it takes along the axis", force, "force", 0),
        Need("preload of all bolts together", BOLTS * force, "force", 0, "at least"),
    )
    unknown = (f"bolts, threads in the body and bending of the flange{turn}",)
    return Alternative("bolted flange or split clamp", needs, unknown, BOLTED)


def _key(press: Press) -> Alternative:
    needs = (Need("force around at the hole", 2.0 * press.torque.high / press.hole.lower, "force", 0),)
    return Alternative(
        "key or dowel in the joint", needs, ("its own strength, and a load along the axis",), STATICS
    )


def _sleeve(press: Press, lost: float) -> Alternative:
    """A sleeve that grows like the inner part, fixed in the body that doesn't."""
    needs = (Need("it takes away a loss to heat of", lost, "length", 4),)
    body, like = press.hub_material.name, press.shaft_material.name
    unknown = (
        f"how a sleeve of {like} or the like is itself held in {body} (flange, thread, shoulder)",
        "its own fit in the body",
    )
    return Alternative("sleeve that grows like the inner part", needs, unknown, GROWTH)
