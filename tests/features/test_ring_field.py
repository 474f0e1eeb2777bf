"""A ring as a field: text or a mapping; its numbers are dimensions like any other."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, ClassVar

import pytest

from fits.errors import InputError
from fits.features import kinds
from fits.features.feature import Feature, Outcome, Rule, State, States, Value, numbers
from fits.features.fields import Context, Size, Undecided
from fits.features.part import Part
from fits.features.ring_field import RingField
from fits.files import loader
from fits.files.part import read_part
from fits.questions.check import check
from fits.questions.evaluate import evaluate, relevant
from fits.questions.targets import with_field
from fits.questions.window import window
from fits.shop.rings import Ring, ring
from fits.sizes.limits import Limits
from fits.tables import Source

OURS = Source("squeeze by its definition", "derived")


class Squeezed(Feature):
    """The smallest kind with a ring: its section in a gap, its seat on a shaft."""

    kind = "squeezed"
    title = "ring in a gap"
    ring: Annotated[Ring | Undecided, RingField("the ring")]
    gap: Annotated[Limits, Size("the gap")]
    seat: Annotated[Limits | None, Size("the seat")] = None
    values: ClassVar = (
        Value("squeeze", "squeeze", "length", 3, "section - gap", OURS, ("ring.section", "gap")),
        Value("stretch", "stretch", "length", 3, "seat - inside", OURS, ("ring.inside", "seat")),
    )
    rules: ClassVar = (
        Rule("squeezed", "squeeze", "at least", 0.3, "it must seal", "another ring", OURS, ("ring.section",)),
        Rule("not crushed", "squeeze", "at most", 1.0, "it must live", "another ring", OURS, ("ring.section",)),
        Rule("sits", "stretch", "at least", 0.0, "it must not hang", "a smaller ring", OURS, ("ring.inside",)),
    )
    example = "fits squeezed --ring AS568-214 --gap 3"

    def compute(self, d: Any, s: States, wanted: frozenset[str] | None = None) -> Outcome:
        still = 0.0 * s.pressure
        stretch = (d["seat"] if "seat" in d else d["ring.inside"]) - d["ring.inside"]
        return Outcome({"squeeze": d["ring.section"] - d["gap"] + still, "stretch": stretch + still})


def part(**keys: Any) -> Part:
    given = {"ring": "AS568-214", "gap": "2.9 ±0.05", "seat": "25.3 ±0.02"} | keys
    return Part("p", {"seal": Squeezed(**given)}, (State("shop"),))


@pytest.fixture
def kind(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(kinds.KINDS, "squeezed", f"{__name__}:Squeezed")


def test_a_ring_brings_its_numbers_along():
    assert list(numbers(Squeezed)) == ["ring.inside", "ring.section", "gap", "seat"]
    found = relevant(part(), "seal", ["squeeze"])
    assert list(found) == ["seal.ring.section", "seal.gap"]
    assert found["seal.ring.section"].levels == (3.429, 3.6322)


def test_corners_take_the_limits_of_the_section():
    squeeze = evaluate(part(), "seal").numbers["squeeze"]
    # AS568-214: .139 +-.004 in is 3.4290 to 3.6322 mm; the gap is 2.85 to 2.95
    assert (round(squeeze.min(), 4), round(squeeze.max(), 4)) == (0.479, 0.7822)
    assert check(part()).verdict == "pass"


@pytest.mark.parametrize("value", ["AS568-214", {"inside": "24.9936 ±0.254", "section": "3.5306 ±0.1016"}, ring("AS568-214")])
def test_text_mapping_and_ring_are_the_same(value: Any):
    found = evaluate(part(ring=value), "seal").numbers["squeeze"]
    assert found.max() == pytest.approx(0.7822, abs=1e-9)


def test_the_window_of_a_section():
    found = window(part(), "seal.ring.section")
    # worst gap 2.95 + 0.3 and 2.85 + 1.0
    assert [(one.low.at, one.high.at) for one in found.intervals] == [(pytest.approx(3.25, abs=2e-4), pytest.approx(3.85, abs=2e-4))]
    assert found.intervals[0].low.rule == "squeezed"
    inside = window(part(), "seal.ring.inside")
    assert inside.intervals[-1].high.at == pytest.approx(25.28, abs=2e-4)


def test_a_state_can_be_swept_past_a_ring():
    found = window(part(), "shop.temperature")
    assert (found.intervals[0].low.at, found.intervals[0].high.at) == (-273.15, 1000.0)


def test_the_way_out_is_another_section():
    found = window(part(gap="3.7 ±0.02"), "seal.seat")
    assert not found.intervals
    assert any(one.what.startswith("seal.ring.section") for one in found.ways_out)


def test_one_number_of_a_ring_is_changed():
    changed = with_field(part(), "seal", "ring.section", "3.50 ±0.02").features["seal"]
    assert changed.ring.section.upper == pytest.approx(3.52)
    assert changed.ring.inside == ring("AS568-214").inside


@pytest.mark.parametrize(("text", "says"), [
    ("seal.ring", "ring is no number; numbers of seal: ring.inside"), ("seal.ring.sectoin", 'did you mean "ring.section"'),
    ("seal.rang.section", "seal has no field rang.section"),
])
def test_a_wrong_number_is_named(text: str, says: str):
    with pytest.raises(InputError, match=says):
        window(part(), text)


def test_an_open_ring_has_no_numbers_yet():
    assert isinstance(part(ring="?").features["seal"].ring, Undecided)
    with pytest.raises(InputError, match="ring is not given"):
        window(part(ring="?"), "seal.ring.section")
    with pytest.raises(InputError, match="not decided yet"):
        check(part(ring="?"))


@pytest.mark.parametrize("value", [{}, {"inside": "?"}, {"section": "?"}, {"inside": "25 ±x", "section": "?"}])
def test_every_fault_of_a_ring_is_said_at_once(value: dict[str, str]):
    with pytest.raises(InputError) as caught:
        loader.feature(Squeezed, {"ring": value, "gap": "2.9"}, Context())
    assert [fault.key for fault in caught.value.faults] == ["ring.inside", "ring.section"]


@pytest.mark.parametrize(("value", "key", "says"), [
    ("AS568-285", "ring", 'did you mean "AS568-284"'), (25, "ring", "the code of a ring is due"),
    ({"inside": "25 ±0.2"}, "ring.section", "missing"), ({"inside": "25 ±0.2", "section": "3.5"}, "ring.section", "a nominal is none"),
    ({"inside": "25 ±0.2", "section": "3.5 ±0.1", "sektion": "1"}, "ring.sektion", 'did you mean "section"'),
    ({"inside": "?", "section": "3.5 ±0.1"}, "ring.inside", "left open"), ({"inside": "25 ±x", "section": "3.5 ±0.1"}, "ring.inside", ""),
    ({"inside": "liner.bore", "section": "3.5 ±0.1"}, "ring.inside", "can't stand on"), ({"inside": "nan", "section": "3.5 ±0.1"}, "ring.inside", "finite"),
])
def test_bad_rings_are_refused_with_their_key(value: Any, key: str, says: str):
    with pytest.raises(InputError) as caught:
        loader.feature(Squeezed, {"ring": value, "gap": "2.9"}, Context())
    assert [fault.key for fault in caught.value.faults] == [key]
    assert says in str(caught.value)


PART = """
[sizes]
cross = "3.53 ±0.08"
[states.hot]
temperature = "70 degC"
[squeezed.seal]
ring = {inside = "25.0 ±0.2", section = "cross"}
gap = "2.9 ±0.05"
seat = "25.3"
"""


def test_a_part_file_shares_the_section(kind: None, tmp_path: Path):
    path = tmp_path / "part.toml"
    path.write_text(PART)
    found = read_part(str(path))
    assert "sizes.cross" in relevant(found, "seal", ["squeeze"])
    assert window(found, "seal.ring.section").intervals[0].high.at == pytest.approx(3.85, abs=2e-4)
    path.write_text(PART.replace("3.53 ±0.08", "3.53"))
    with pytest.raises(InputError, match=r"part.toml:7: squeezed.seal.ring.section: \"cross\": a ring's size needs its tolerance"):
        read_part(str(path))


def test_the_shell_takes_a_code_and_an_inline_table(kind: None):
    from fits.cli.kinds import command

    run = command("squeezed")
    more = {"state": None, "as_json": False, "as_csv": False, "units": None, "workings": True, "output": None, "picture": None, "gap": "2.9", "seat": "25.3"}
    said = run(ring='{inside = "25 ±0.1", section = "3.53 ±0.1"}', **more)
    assert said.status == 0
    assert "ring.section 3.63" in said.text
    assert run(ring="AS568-214", **more).status == 0
    with pytest.raises(InputError, match=r"--ring: \"{inside\": not a TOML inline table; write {inside"):
        run(ring="{inside", **more)
    with pytest.raises(InputError, match=r"--ring.section: missing"):
        run(ring='{inside = "25 ±0.1"}', **more)


def test_a_ring_is_bought_not_cut_in_a_metal():
    of = RingField("the ring")
    assert not list(of.sizes(ring("AS568-214")))
    assert of.metal(ring("AS568-214"), "section") is None
