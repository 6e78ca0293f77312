"""Registry and recording of formulas, and what every physics formula owes its reader."""

from __future__ import annotations

import inspect
import re
import typing
import warnings

import numpy as np
import pint
import pytest

import finishplan.physics as physics
from finishplan.formula import INFINITY, Formula, formula, recording, registry
from finishplan.physics import chamfer_area, engagement_angle, mean_chip_thickness, specific_cutting_force

UNITS = pint.UnitRegistry()
OWN_TOPICS = ("dust", "guarding", "noise", "ventilation")
"""Topics that keep their names to themselves: finishplan.physics.noise.noise_dose."""

FORMULAS = [entry for entry in registry.values() if entry.function.__module__.startswith("finishplan.physics.")]
TEXT = "-"


def each_formula() -> pytest.MarkDecorator:
    return pytest.mark.parametrize("entry", FORMULAS, ids=lambda entry: entry.name)


def unit(text: str) -> pint.Unit:
    return UNITS.parse_units("" if text == "1" else text)


def ordinary_value(entry: Formula, argument: str) -> object:
    """A value inside the domain, in the declared unit; the first choice where a name is wanted."""
    if entry.units[argument] == TEXT:
        return typing.get_args(typing.get_type_hints(entry.function)[argument])[0]
    low, high = entry.domain.get(argument, (0.0, INFINITY))
    value = (low + high) / 2 if high < INFINITY else max(low, 1.0)
    return UNITS.Quantity(np.array([value, value]), unit(entry.units[argument]))


def sections(docstring: str) -> dict[str, str]:
    """Text of each section of a numpy-style docstring, by its title."""
    parts = re.split(r"^(\w+)\n-+$", inspect.cleandoc(docstring), flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def described_arguments(parameters: str) -> dict[str, str]:
    parts = re.split(r"^(\w+) : .*$", parameters, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def in_brackets(text: str) -> str:
    found = re.findall(r"\[([^\]]*)\]", text)
    assert found, f"no unit in brackets: {text!r}"
    return str(found[-1])


class TestEveryFormula:
    def test_all_public_functions_of_physics_are_there(self) -> None:
        functions = {name for name in physics.__all__ if inspect.isfunction(getattr(physics, name))}
        of_topics = [entry for entry in FORMULAS if entry.function.__module__.split(".")[2] in OWN_TOPICS]
        # a profile is a record of several quantities, so it has no single unit to declare
        assert functions - {"feed_profile"} == {entry.name for entry in FORMULAS} - {entry.name for entry in of_topics}
        for entry in of_topics:
            topic = getattr(physics, entry.function.__module__.split(".")[2])
            assert entry.name in topic.__all__

    @each_formula()
    def test_states_equation_and_source(self, entry: Formula) -> None:
        assert "=" in entry.equation
        assert len(entry.source) > 10

    @each_formula()
    def test_docstring_gives_the_declared_unit_of_every_argument(self, entry: Formula) -> None:
        described = described_arguments(sections(entry.function.__doc__ or "")["Parameters"])
        assert list(described) == list(inspect.signature(entry.function).parameters)
        for name, text in described.items():
            if entry.units[name] != TEXT:
                assert in_brackets(text) == entry.units[name].replace("^", ""), name

    @each_formula()
    def test_docstring_gives_the_declared_unit_of_the_result(self, entry: Formula) -> None:
        assert in_brackets(sections(entry.function.__doc__ or "")["Returns"]) == entry.returns.replace("^", "")

    @each_formula()
    def test_result_has_the_declared_dimension(self, entry: Formula) -> None:
        arguments = {name: ordinary_value(entry, name) for name in entry.units}
        with warnings.catch_warnings():
            # the domain check of a formula called inside another reads the bare SI numbers
            warnings.simplefilter("ignore", pint.UnitStrippedWarning)
            result = UNITS.Quantity(entry.function(**arguments))
        assert result.dimensionality == unit(entry.returns).dimensionality


class TestRegistry:
    def test_holds_what_the_decorator_was_told(self) -> None:
        entry = registry["finishplan.physics.edge.chamfer_area"]
        assert entry.units == {"leg": "m", "included_angle": "rad"}
        assert entry.returns == "m^2"
        assert entry.quantity == "chamfer area"
        assert entry.function is inspect.unwrap(chamfer_area)

    def test_refuses_units_that_do_not_match_the_arguments(self) -> None:
        with pytest.raises(TypeError, match=re.escape("spread: units and arguments differ in ['gap', 'width']")):

            @formula("b = w", units={"gap": "m"}, returns="m", source="definition")
            def spread(width: float) -> float:
                return width

        assert not any(path.endswith(".spread") for path in registry)

    def test_tells_formulas_of_the_same_name_apart_by_module(self) -> None:
        def chamfer_area(leg: float) -> float:
            return leg

        formula("A = c", units={"leg": "m"}, returns="m", source="definition")(chamfer_area)
        own = registry.pop(f"{__name__}.chamfer_area")
        assert own.function is chamfer_area
        assert registry["finishplan.physics.edge.chamfer_area"].function is not chamfer_area


class TestRecording:
    def test_keeps_calls_in_order_with_their_arguments(self) -> None:
        with recording() as record:
            area = chamfer_area(1e-3, np.pi / 2)
            angle = engagement_angle(diameter=6e-3, radial_depth=1e-3)
        assert [step.formula.name for step in record.steps] == ["chamfer_area", "engagement_angle"]
        assert record.steps[0].inputs == {"leg": 1e-3, "included_angle": np.pi / 2}
        assert list(record.steps[1].inputs) == ["radial_depth", "diameter"]
        assert [step.result for step in record.steps] == [area, angle]

    def test_holds_the_very_object_that_was_returned(self) -> None:
        with recording() as record:
            first = chamfer_area(1e-3, 1.0)
            second = chamfer_area(1e-3, 1.0)
        assert first == second
        assert record.step_that_gave(first) == 0
        assert record.step_that_gave(second) == 1
        assert record.step_that_gave(float(first)) is None

    def test_puts_a_formula_used_inside_another_before_it(self) -> None:
        with recording() as record:
            mean_chip_thickness(1e-4, 1e-3, 6e-3)
        assert [step.formula.name for step in record.steps] == ["engagement_angle", "mean_chip_thickness"]

    def test_fills_in_defaults(self) -> None:
        with recording() as record:
            specific_cutting_force(2.5e9, 0.26, 1e-4)
        assert record.steps[0].inputs["reference_thickness"] == 1e-3

    def test_inner_recording_takes_the_calls_from_the_outer_one(self) -> None:
        with recording() as outer:
            chamfer_area(1e-3, 1.0)
            with recording() as inner:
                engagement_angle(1e-3, 6e-3)
            chamfer_area(2e-3, 1.0)
        assert [step.formula.name for step in outer.steps] == ["chamfer_area", "chamfer_area"]
        assert [step.formula.name for step in inner.steps] == ["engagement_angle"]

    def test_ends_with_its_block_even_after_an_error(self) -> None:
        with pytest.raises(ValueError, match="chamfer_area"), recording() as record:
            chamfer_area(-1.0, 1.0)
        chamfer_area(1e-3, 1.0)
        assert record.steps == []

    def test_marks_arguments_outside_the_trusted_range(self) -> None:
        with recording() as record:
            specific_cutting_force(2.5e9, 0.26, np.array([1e-5, 1e-4]))
            specific_cutting_force(2.5e9, 0.26, 1e-4)
        assert record.steps[0].outside_trusted_range() == ["chip_thickness"]
        assert record.steps[1].outside_trusted_range() == []


class TestDomain:
    def test_message_for_a_scalar_with_one_bound(self) -> None:
        with pytest.raises(ValueError, match=r"^chamfer_area: leg must be at least 0 \[m\], given -0\.001$"):
            chamfer_area(-1e-3, 1.0)

    def test_message_for_an_array_with_two_bounds(self) -> None:
        wanted = "chamfer_area: included_angle must be between 0.001 and 3.14059 [rad], given values from 0 to 4"
        with pytest.raises(ValueError, match=f"^{re.escape(wanted)}$"):
            chamfer_area(1e-3, np.array([0.0, 4.0]))

    def test_not_a_number_is_outside_every_domain(self) -> None:
        with pytest.raises(ValueError, match="given nan"):
            chamfer_area(float("nan"), 1.0)

    def test_an_empty_array_passes(self) -> None:
        assert np.size(chamfer_area(np.array([]), 1.0)) == 0
