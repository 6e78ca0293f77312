"""The derivation told to a user: complete, in order, and reproducible from what it shows."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from finishplan.errors import JobError
from finishplan.formula import Formula, registry
from finishplan.job import LoadedJob, load_job
from finishplan.planning.derivation import Derivation, DerivationStep, InputLine, derive
from finishplan.planning.plan import Plan
from finishplan.process.chip_law import PowerLaw

EXAMPLES = Path(__file__).parents[2] / "examples"
LAW = ("kc11", "mc", "minimum_chip_thickness", "rake_factor", "wear_factor")


@pytest.fixture(scope="module")
def derivation(plan: Plan) -> Derivation:
    return derive(plan.loaded, "rim")


def formula_of(step: DerivationStep) -> Formula:
    (found,) = (f for f in registry.values() if f.quantity == step.quantity and f.equation == step.equation)
    return found


def shown_value(line: InputLine) -> Any:
    """What a reader would put in: the word chosen, the figure, or the figures."""
    if not line.values:
        return line.origin
    return line.values[0] if len(line.values) == 1 else np.array(line.values)


def arguments_of(step: DerivationStep, formula: Formula) -> dict[str, Any]:
    """The arguments a reader would put into the formula."""
    shown = {line.name.replace(" ", "_"): shown_value(line) for line in step.inputs}
    parameters = inspect.signature(formula.function).parameters
    if "chip_law" in parameters:
        shown["chip_law"] = PowerLaw(**{name: shown.pop(name) for name in LAW})
    return shown


def test_every_step_follows_from_the_values_it_shows(derivation: Derivation) -> None:
    for step in derivation.steps:
        formula = formula_of(step)
        result = np.atleast_1d(formula.function(**arguments_of(step, formula)))
        assert result == pytest.approx(np.array(step.result), rel=1e-9), step.quantity


def test_steps_form_a_chain(derivation: Derivation) -> None:
    assert [step.number for step in derivation.steps] == list(range(1, len(derivation.steps) + 1))
    for step in derivation.steps:
        for line in step.inputs:
            if line.step is not None:
                assert line.step < step.number
                assert line.values == derivation.steps[line.step - 1].result
                assert line.origin == f"step {line.step}"


def test_the_chain_ends_in_the_figures_of_the_plan(plan: Plan, derivation: Derivation) -> None:
    (step,) = plan.features[0].chosen.steps
    nominal = step.found.evaluation.predictions["nominal"]
    results = {item.quantity: item.result for item in derivation.steps if len(item.result) == 1}
    assert derivation.feature == "rim"
    assert derivation.tool == step.tool
    for quantity, figure in (
        ("chamfer leg", nominal.leg),
        ("surface speed", nominal.surface_speed),
        ("feed per tooth", nominal.feed_per_tooth),
        ("cutting power", nominal.power),
        ("normal force", nominal.normal_force),
        ("tangential force", nominal.tangential_force),
        ("max chip thickness", nominal.max_chip_thickness),
        ("approach speed", nominal.approach_speed),
        ("power at speed", nominal.available_power),
    ):
        assert results[quantity][0] == pytest.approx(float(figure), rel=1e-12), quantity


def test_every_input_has_an_origin(derivation: Derivation) -> None:
    for step in derivation.steps:
        for line in step.inputs:
            assert line.origin, f"{step.quantity}: {line.name}"
            assert line.unit


def test_settings_are_told_as_settings(derivation: Derivation) -> None:
    told = {line.name for step in derivation.steps for line in step.inputs if line.origin == "setting of the plan"}
    assert told == {"spindle speed", "feed", "set force"}


def test_figures_of_the_files_name_their_line(derivation: Derivation) -> None:
    lines = {(line.name, line.origin.rsplit(":", 1)[-1].split(" ")[-1]) for s in derivation.steps for line in s.inputs}
    assert {("teeth", "cell.tool.teeth"), ("height", "edge.burr.height"), ("overhang", "cell.tool.overhang")} & lines


def test_only_what_comes_from_a_corner_is_said_to(plan: Plan, derivation: Derivation) -> None:
    """The one figure a nominal edge takes from another corner is the heaviest force on the robot."""
    told = {
        (step.quantity, line.name)
        for step in derivation.steps
        for line in step.inputs
        if line.origin == "at a corner of the scatter"
    }
    assert told <= {("payload with force", "force")}


def test_the_way_errors_are_combined_is_shown(plan: Plan) -> None:
    """A choice among words has no figures, and the word stands where the origin does."""
    step = derive(plan.loaded, "rim", "required stroke").steps[-1]
    (method,) = (line for line in step.inputs if line.name == "method")
    assert (method.values, method.origin) == ((), "worst case")
    result = formula_of(step).function(**arguments_of(step, formula_of(step)))
    assert result == pytest.approx(step.result[0], rel=1e-12)


def needed(derivation: Derivation, last: int) -> set[int]:
    """Numbers of the steps that a step of the whole derivation rests on."""
    found = {last}
    for line in derivation.steps[last - 1].inputs:
        if line.step is not None:
            found |= needed(derivation, line.step)
    return found


@pytest.mark.parametrize(
    ("asked", "quantity"),
    [
        ("edge break", "chamfer leg"),
        ("leg", "chamfer leg"),
        ("contact force", "normal force"),
        ("power", "cutting power"),
        ("chip thickness", "max chip thickness"),
        ("surface speed", "surface speed"),
        ("tool deflection", "cantilever deflection"),
        pytest.param(
            "depth",
            "depth after pass",
        ),
    ],
)
def test_a_quantity_shows_the_steps_it_needs_and_no_others(
    plan: Plan, derivation: Derivation, asked: str, quantity: str
) -> None:
    part = derive(plan.loaded, "rim", asked)
    assert part.quantity == asked
    assert part.steps[-1].quantity == quantity
    last = max(step.number for step in derivation.steps if step.quantity == quantity)
    wanted = [derivation.steps[number - 1] for number in sorted(needed(derivation, last))]
    assert [(step.quantity, step.result) for step in part.steps] == [(step.quantity, step.result) for step in wanted]
    assert [step.number for step in part.steps] == list(range(1, len(wanted) + 1))


def test_what_only_a_limit_needs_is_derived_when_it_is_asked_for(plan: Plan) -> None:
    payload = derive(plan.loaded, "rim", "payload with force")
    (step,) = plan.features[0].chosen.steps
    limit = next(limit for limit in step.found.evaluation.limits if limit.name == "robot payload")
    assert payload.steps[-1].result[0] == pytest.approx(float(limit.value), rel=1e-12)


def test_an_unknown_feature_names_those_there_are(plan: Plan) -> None:
    with pytest.raises(JobError) as caught:
        derive(plan.loaded, "rin")
    (fault,) = caught.value.faults
    assert fault.key == "feature"
    assert "rin" in fault.given
    assert "rim, bore" in fault.wanted
    assert "rim" in fault.write


@pytest.mark.parametrize("quantity", ["colour", "__class__", "", "steps"])
def test_an_unknown_quantity_names_those_there_are(plan: Plan, quantity: str) -> None:
    with pytest.raises(JobError) as caught:
        derive(plan.loaded, "rim", quantity)
    (fault,) = caught.value.faults
    assert fault.key == "quantity"
    assert "edge break" in fault.wanted
    assert "surface speed" in fault.wanted


def test_a_misspelt_quantity_is_answered_with_the_closest(plan: Plan) -> None:
    with pytest.raises(JobError) as caught:
        derive(plan.loaded, "rim", "edge brake")
    assert "edge break" in caught.value.faults[0].write


def test_every_pass_is_a_step(load: Callable[..., LoadedJob]) -> None:
    """A weak device takes a high burr in two passes; the second starts at the depth of the first."""
    job = [('height = "0.4 mm", height_scatter = "0.2 mm"', 'height = "1.5 mm", height_scatter = "0.1 mm"')]
    derived = derive(load(job=job, cell=[('force_max = "120 N"', 'force_max = "8 N"')]), "rim", "edge break")
    first, second = (step for step in derived.steps if step.quantity == "depth after pass")
    before = next(line for line in second.inputs if line.name == "depth before")
    assert (before.step, before.values) == (first.number, first.result)
    assert second.result > first.result


def test_words_of_a_trimmed_contour_and_either_of_its_cuts() -> None:
    loaded = load_job(EXAMPLES / "gfrp_fender.toml")
    for words in (
        "path error, worst",
        "mean chip",
        "teeth in the cut",
        "force off the wall, mean",
        "waves on the wall",
    ):
        assert derive(loaded, "rim", words).steps
    first, second = (derive(loaded, f"lamp opening, step {number}", "cut section") for number in (1, 2))
    # the rough cut clears the full width, the finishing cut what was left of it
    assert first.steps[-1].result[0] > second.steps[-1].result[0]
