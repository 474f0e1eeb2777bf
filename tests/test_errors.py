"""Faults: their form, their way through pickling, near names."""

from __future__ import annotations

import pickle

from fits.errors import DeliveryError, Fault, FitsError, InputError, TableError, meant, nearest


def test_the_form_of_a_fault():
    fault = Fault("no grade 77", "16 H77", "press.liner.hole", "pump.toml:13", "grades run from 01 to 18")
    assert str(fault) == 'pump.toml:13: press.liner.hole: "16 H77": no grade 77; grades run from 01 to 18'


def test_a_fault_is_one_line_that_no_terminal_acts_upon():
    said = str(Fault("no unit", "25\n\x1b[31m\u2028\u202e\udcff mm", hint="not\r25"))
    assert said.isprintable()
    assert said == '"25\\n\\x1b[31m\\u2028\\u202e\\udcff mm": no unit; not\\r25'
    assert len(str(Fault("too long", "9" * 5000))) < 200


def test_errors_are_also_what_a_caller_expects():
    assert issubclass(InputError, ValueError)
    assert issubclass(TableError, ValueError)
    assert issubclass(DeliveryError, OSError)


def test_errors_pickle_with_their_faults():
    error = InputError([Fault("a"), Fault("b", key="k")])
    again = pickle.loads(pickle.dumps(error))
    assert again.faults == error.faults
    assert str(again) == "a\nk: b"
    assert isinstance(again, FitsError)


def test_near_names_prefix_first():
    assert nearest("6061", ["2024-T3", "6061-T6"]) == "6061-T6"
    assert nearest("lenght", ["length", "hole"]) == "length"
    assert nearest("qqqq", ["length"]) == ""
    assert meant("qqqq", ["length"]) == ""
    assert meant("hol", ["hole"]) == 'did you mean "hole"?'
