"""Faults read as one line each, and errors carry all of theirs."""

from __future__ import annotations

import pytest

from finishplan import errors
from finishplan.errors import Fault, FinishplanError, GeometryError, InputError, JobError, UnitError, nearest


def test_a_full_fault_reads_as_one_line() -> None:
    fault = Fault("job.toml", "part.mass", "a mass in kg", given='"2,5 kg"', write='"2.5 kg"', line=7, column=1)
    assert str(fault) == 'job.toml:7: part.mass: given "2,5 kg"; wanted a mass in kg; write "2.5 kg"'


@pytest.mark.parametrize(
    ("fault", "text"),
    [
        (Fault("a.dxf", "", "a drawing"), "a.dxf: wanted a drawing"),
        (Fault("a.toml", "", "TOML", line=3), "a.toml:3: wanted TOML"),
        (Fault("a.toml", "part", "this table", write="[part]"), "a.toml: part: wanted this table; write [part]"),
    ],
)
def test_absent_parts_leave_no_trace(fault: Fault, text: str) -> None:
    assert str(fault) == text


@pytest.mark.parametrize("error_class", [JobError, GeometryError])
def test_input_errors_carry_every_fault_a_line_each(error_class: type[InputError]) -> None:
    faults = (Fault("a", "x", "one"), Fault("a", "y", "two"))
    error = error_class(iter(faults))
    assert error.faults == faults
    assert str(error) == "a: x: wanted one\na: y: wanted two"


def test_unit_error_keeps_the_parts_of_a_fault() -> None:
    error = UnitError('"5"', "a length", '"5 mm"')
    assert (error.given, error.wanted, error.write) == ('"5"', "a length", '"5 mm"')
    assert str(error) == 'given "5"; wanted a length; write "5 mm"'
    assert str(UnitError('"5"', "a length")) == 'given "5"; wanted a length'


def test_everything_raised_on_purpose_has_one_base() -> None:
    classes = [thing for thing in vars(errors).values() if isinstance(thing, type) and issubclass(thing, Exception)]
    assert len(classes) > 5
    assert all(issubclass(error_class, FinishplanError) for error_class in classes)


def test_nearest_names_come_best_first_whatever_their_case() -> None:
    known = ["Articulated", "collaborative", "articulate"]
    assert nearest("ARTICULATED", known) == ["Articulated", "articulate"]
    assert nearest("articulated", known, 1) == ["Articulated"]
    assert nearest("zzz", known) == []
    assert nearest("", []) == []
