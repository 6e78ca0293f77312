"""The derivation of a feature's figures: the calls the model really made, and where every value came from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cached_property
from typing import Any, Final

import numpy as np

from finishplan.errors import Fault, JobError, nearest
from finishplan.formula import Recording, Step, recording
from finishplan.job import LoadedJob
from finishplan.planning.feature import Step as PlannedStep
from finishplan.planning.ledger import Ledger
from finishplan.planning.plan import make_plan

LABELS: Final[Mapping[str, str]] = {
    "edge break": "leg",
    "contact force": "normal_force",
    "chip thickness": "max_chip_thickness",
    "mean chip": "mean_chip_thickness",
    "teeth in the cut": "teeth_in_cut",
    "force off the wall": "wall_force",
    "force against the feed": "feed_direction_force",
    "waves on the wall": "cusp_height",
    "rise at the cut edge": "temperature_rise",
    "rise at the surface": "temperature_rise",
}
"""Words of the plan for fields of a prediction, beside the fields' own names."""


@dataclass(frozen=True)
class InputLine:
    """One value that went into a step, and the earlier step it came from, if any.

    A choice among words has no values; the word is its origin.
    """

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
    """Derive the figures of a feature at the settings the plan chose, for its nominal state.

    A feature done in several steps is named "feature, step 1" or "feature, tool" to choose one; its
    last step is taken otherwise.

    Raises
    ------
    JobError
        A feature the job does not have, or a quantity that is not worked out for it.
    """
    steps = _steps(loaded)
    if feature not in steps:
        raise _unknown(loaded, "feature", feature, list(steps))
    found = steps[feature].found
    with recording() as record:
        operation = found.operation.again()
        settings = {name: _entered(operation.ledger, name, value) for name, value in found.settings.items()}
        evaluation = operation.evaluate(settings, found.passes)
        results = _results(record, evaluation.predictions["nominal"])
    wanted = list(results.values()) if quantity is None else [_result_of(loaded, record, results, quantity)]
    kept = sorted(set().union(*(_needed(record, index) for index in wanted)))
    numbers = {index: number for number, index in enumerate(kept, start=1)}
    lines = tuple(
        _line(record.steps[index], number, record, operation.ledger, numbers) for index, number in numbers.items()
    )
    return Derivation(feature, found.operation.tool, quantity, lines)


def _steps(loaded: LoadedJob) -> dict[str, PlannedStep]:
    """Every step of the plan by the names it may be asked for with."""
    steps: dict[str, PlannedStep] = {}
    for feature in make_plan(loaded).features:
        for number, step in enumerate(feature.chosen.steps, start=1):
            steps[feature.name] = step
            if len(feature.chosen.steps) > 1:
                steps[f"{feature.name}, {step.tool}"] = step
                steps[f"{feature.name}, step {number}"] = step
    return steps


def _entered(ledger: Ledger, name: str, value: Any) -> np.float64:
    return ledger.enter(f"setting.{name}", "setting", float(value), "number", "setting of the plan")


def _results(record: Recording, prediction: Any) -> dict[str, int]:
    """Step behind every figure of a prediction that a formula gave.

    Figures that a prediction only works out when asked are asked for here, while the recording runs.
    """
    asked = [name for name, each in vars(type(prediction)).items() if isinstance(each, cached_property)]
    names = [*(field.name for field in fields(prediction)), *asked]
    by_name = {name: record.step_that_gave(getattr(prediction, name)) for name in names}
    return {name: index for name, index in by_name.items() if index is not None}


def _result_of(loaded: LoadedJob, record: Recording, results: Mapping[str, int], quantity: str) -> int:
    """Index of the step whose result is the quantity asked for.

    What the plan adds after a comma, such as "worst", names a state; the nominal one is derived.
    """
    words = quantity.partition(",")[0]
    name = LABELS.get(words, words).replace(" ", "_")
    if name in results:
        return results[name]
    by_formula: dict[str, int] = {}
    for index, step in enumerate(record.steps):
        by_formula.setdefault(step.formula.name, index)
    if name in by_formula:
        return by_formula[name]
    known = {label for label, field in LABELS.items() if field in results}
    known |= {known_name.replace("_", " ") for known_name in (*results, *by_formula)}
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
    inputs = tuple(
        _input(name, value, formula.units.get(name) or _LAW_UNITS[name], record, ledger, numbers)
        for name, value in _flattened(step.inputs)
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
    record: Recording,
    ledger: Ledger,
    numbers: Mapping[int, int],
) -> InputLine:
    words = name.replace("_", " ")
    if isinstance(value, str):
        return InputLine(words, (), unit, value)
    index = record.step_that_gave(value)
    if index is not None:
        return InputLine(words, _values(value), unit, f"step {numbers[index]}", numbers[index])
    origin = ledger.origin_of(value)
    if origin is not None:
        return InputLine(words, _values(value), unit, origin.text)
    if type(value) in (float, int):
        return InputLine(words, _values(value), unit, "constant of the relation")
    return InputLine(words, _values(value), unit, "at a corner of the scatter")


def _values(value: Any) -> tuple[float, ...]:
    return tuple(float(item) for item in np.atleast_1d(np.asarray(value, dtype=float)).ravel())
