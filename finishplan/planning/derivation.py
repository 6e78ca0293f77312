"""The derivation of a feature's figures: the calls the model really made, and where every value came from."""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import Any, Final

import numpy as np

from finishplan.errors import Fault, JobError, nearest
from finishplan.formula import Recording, Step, paused, recording
from finishplan.job import LoadedJob
from finishplan.planning.edge_operation import operating_point
from finishplan.planning.edge_setup import EdgeSetup, edge_setup
from finishplan.planning.ledger import Ledger
from finishplan.planning.plan import FeaturePlan, make_plan
from finishplan.process.edge_conditions import OperatingPoint
from finishplan.process.edge_cutting import Corner, Prediction, predict
from finishplan.process.edge_limits import edge_limits

LABELS: Final[Mapping[str, str]] = {
    "edge break": "leg",
    "contact force": "normal_force",
    "power": "cutting_power",
    "chip thickness": "max_chip_thickness",
}
"""Words of the plan for fields of a prediction, beside the fields' own names."""


@dataclass(frozen=True)
class InputLine:
    """One value that went into a step. `steps` are the earlier steps it came from, if any."""

    name: str
    values: tuple[float, ...]
    unit: str
    origin: str
    step: int | None = None


@dataclass(frozen=True)
class DerivationStep:
    """One step: what was worked out, by which equation, from what."""

    number: int
    quantity: str
    equation: str
    source: str
    inputs: tuple[InputLine, ...]
    result: tuple[float, ...]
    unit: str
    doubts: tuple[str, ...]


@dataclass(frozen=True)
class Derivation:
    """Every step of a feature, or those one quantity rests on."""

    feature: str
    tool: str
    quantity: str | None
    steps: tuple[DerivationStep, ...]


def derive(loaded: LoadedJob, feature: str, quantity: str | None = None) -> Derivation:
    """Derive the figures of a feature at the settings the plan chose, for the nominal edge.

    Raises
    ------
    JobError
        A feature the job does not have, or a quantity that is not worked out for it.
    """
    plan = make_plan(loaded)
    chosen = next((item for item in plan.features if item.name == feature), None)
    if chosen is None:
        raise _unknown(loaded, "feature", feature, [item.name for item in plan.features])
    record, ledger, prediction = _run(loaded, chosen)
    wanted = None if quantity is None else _result_of(loaded, record, prediction, quantity)
    kept = range(len(record.steps)) if wanted is None else _needed(record, wanted)
    numbers = {index: number for number, index in enumerate(sorted(kept), start=1)}
    steps = tuple(_line(record.steps[index], number, record, ledger, numbers) for index, number in numbers.items())
    return Derivation(feature, chosen.chosen.steps[0].tool, quantity, steps)


def _run(loaded: LoadedJob, chosen: FeaturePlan) -> tuple[Recording, Ledger, Prediction]:
    """Build the conditions and run the model again, this time on record."""
    operation, found = chosen.detail.operation, chosen.chosen.steps[0].found
    names = [edge.name for edge in loaded.job.edge]
    with recording() as record:
        setup = edge_setup(loaded, names.index(chosen.name), operation.setup.tool)
        point = _entered(setup.ledger, operating_point(found.settings, found.passes))
        prediction = predict(setup.nominal, point)
        edge_limits(setup.nominal, point, _corners(setup, point, prediction))
    return record, setup.ledger, prediction


def _corners(setup: EdgeSetup, point: OperatingPoint, nominal: Prediction) -> dict[Corner, Prediction]:
    with paused():
        predictions = {name: predict(corner, point) for name, corner in setup.corners.items()}
    predictions["nominal"] = nominal
    return predictions


def _entered(ledger: Ledger, point: OperatingPoint) -> OperatingPoint:
    def setting(name: str, value: Any, quantity: str) -> np.float64:
        return ledger.enter(f"setting.{name}", "setting", float(value), quantity, "setting of the plan")

    return OperatingPoint(
        setting("spindle_speed", point.spindle_speed, "rotation"),
        setting("feed", point.feed, "feed"),
        setting("setting", point.setting, "number"),
        point.passes,
    )


def _result_of(loaded: LoadedJob, record: Recording, prediction: Prediction, quantity: str) -> int:
    """Index of the step whose result is the quantity asked for."""
    name = LABELS.get(quantity, quantity).replace(" ", "_")
    if hasattr(prediction, name):
        index = record.step_that_gave(getattr(prediction, name))
        if index is not None:
            return index
    by_formula = {step.formula.name: index for index, step in enumerate(record.steps)}
    if name in by_formula:
        return by_formula[name]
    known = {*LABELS, *(field.name.replace("_", " ") for field in fields(prediction))}
    known |= {formula.replace("_", " ") for formula in by_formula}
    raise _unknown(loaded, "quantity", quantity, sorted(known))


def _unknown(loaded: LoadedJob, what: str, given: str, known: list[str]) -> JobError:
    close = nearest(given, known)
    return JobError(
        [Fault(loaded.where().file, what, f"one of {', '.join(known)}", repr(given), repr(close[0]) if close else "")]
    )


def _needed(record: Recording, last: int) -> set[int]:
    """The steps a step rests on, itself included."""
    needed: set[int] = set()
    open_steps = [last]
    while open_steps:
        index = open_steps.pop()
        if index in needed:
            continue
        needed.add(index)
        for _, value in _flattened(record.steps[index].inputs):
            earlier = record.step_that_gave(value)
            if earlier is not None:
                open_steps.append(earlier)
    return needed


def _flattened(inputs: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """Arguments by name; a record among them (a chip law) is opened up into its fields."""
    for name, value in inputs.items():
        if is_dataclass(value):
            for field in fields(value):
                yield field.name, getattr(value, field.name)
        else:
            yield name, value


_LAW_UNITS: Final[Mapping[str, str]] = {
    "kc11": "Pa",
    "mc": "1",
    "slope": "Pa",
    "intercept": "N/m",
    "minimum_chip_thickness": "m",
    "rake_factor": "1",
    "wear_factor": "1",
}


def _line(step: Step, number: int, record: Recording, ledger: Ledger, numbers: Mapping[int, int]) -> DerivationStep:
    formula = step.formula
    parameters = inspect.signature(formula.function).parameters
    inputs = tuple(
        _input(name, value, formula.units.get(name) or _LAW_UNITS[name], parameters, record, ledger, numbers)
        for name, value in _flattened(step.inputs)
        if not isinstance(value, str)
    )
    doubts = tuple(f"{name} is outside the range the relation is known for" for name in step.outside_trusted_range())
    return DerivationStep(
        number,
        formula.quantity,
        formula.equation,
        formula.source,
        inputs,
        _values(step.result),
        formula.returns,
        doubts,
    )


def _input(
    name: str,
    value: Any,
    unit: str,
    parameters: Mapping[str, inspect.Parameter],
    record: Recording,
    ledger: Ledger,
    numbers: Mapping[int, int],
) -> InputLine:
    index = record.step_that_gave(value)
    words = name.replace("_", " ")
    if index is not None:
        return InputLine(words, _values(value), unit, f"step {numbers[index]}", numbers[index])
    origin = ledger.origin_of(value)
    if origin is not None:
        return InputLine(words, _values(value), unit, origin.text)
    if name in parameters and parameters[name].default is value:
        return InputLine(words, _values(value), unit, "constant of the relation")
    return InputLine(words, _values(value), unit, "at a corner of the scatter")


def _values(value: Any) -> tuple[float, ...]:
    return tuple(float(item) for item in np.atleast_1d(np.asarray(value, dtype=float)).ravel())
