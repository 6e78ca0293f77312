"""Mark a physics function with its equation, units, source and validity, and record its calls.

A recording holds the calls a model really made, in order, so a derivation shown to a user
cannot drift from the code that produced the figure.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Any, TypeAlias, TypeVar

import numpy as np

Function = TypeVar("Function", bound=Callable[..., Any])

Array: TypeAlias = Any
"""A float or a numpy array of floats; physics broadcasts its arguments and keeps a scalar a scalar."""

INFINITY = float("inf")


@dataclass(frozen=True)
class Formula:
    """What is known of a formula besides its code.

    Attributes
    ----------
    name : str
        The function's name.
    equation : str
        The relation in plain characters, with the argument names' usual symbols.
    units : mapping of str to str
        SI unit of every argument ("1" for a pure number, "1/s" for a rotation in rev/s).
    returns : str
        SI unit of the result.
    source : str
        Where the relation is published.
    domain : mapping of str to (low, high)
        Bounds outside which the relation has no meaning; a call beyond them raises ValueError.
    trusted : mapping of str to (low, high)
        Bounds inside which the relation is known to hold; a call beyond them is only marked.
    """

    name: str
    function: Callable[..., Any]
    equation: str
    units: Mapping[str, str]
    returns: str
    source: str
    domain: Mapping[str, tuple[float, float]]
    trusted: Mapping[str, tuple[float, float]]

    @property
    def quantity(self) -> str:
        """The name in words."""
        return self.name.replace("_", " ")


@dataclass(frozen=True, eq=False)
class Step:
    """One recorded call: the formula, the argument values by name, and the result."""

    formula: Formula
    inputs: Mapping[str, Any]
    result: Any

    def outside_trusted_range(self) -> list[str]:
        """Names of the arguments that lie outside the range the relation is known to hold in."""
        return [
            name
            for name, (low, high) in self.formula.trusted.items()
            if name in self.inputs and not _inside(self.inputs[name], low, high)
        ]


@dataclass(eq=False)
class Recording:
    """The calls made while recording was on. Results are found again by object identity."""

    steps: list[Step] = field(default_factory=list)

    def step_that_gave(self, value: object) -> int | None:
        """Index of the step whose result is this very object, or None."""
        return next((i for i, step in enumerate(self.steps) if step.result is value), None)


_active: ContextVar[Recording | None] = ContextVar("active_recording", default=None)
_checking: ContextVar[bool] = ContextVar("checking_domains", default=True)

registry: dict[str, Formula] = {}
"""Every formula by module and name, filled as the modules are imported."""


@contextmanager
def recording() -> Iterator[Recording]:
    """Record every formula call made inside the block."""
    record = Recording()
    token = _active.set(record)
    try:
        yield record
    finally:
        _active.reset(token)


@contextmanager
def paused() -> Iterator[None]:
    """Leave calls inside the block out of a running recording: the trial steps of an iteration."""
    token = _active.set(None)
    try:
        yield
    finally:
        _active.reset(token)


@contextmanager
def unchecked() -> Iterator[None]:
    """Leave domains unchecked inside the block: points of a search, of which the chosen one is checked later."""
    token = _checking.set(False)
    try:
        yield
    finally:
        _checking.reset(token)


def formula(
    equation: str,
    *,
    units: Mapping[str, str],
    returns: str,
    source: str,
    domain: Mapping[str, tuple[float, float]] | None = None,
    trusted: Mapping[str, tuple[float, float]] | None = None,
) -> Callable[[Function], Function]:
    """Register a physics function as a formula. The bare function stays at ``__wrapped__``."""

    def register(function: Function) -> Function:
        signature = inspect.signature(function)
        entry = Formula(
            function.__name__, function, equation, dict(units), returns, source, dict(domain or {}), dict(trusted or {})
        )
        unknown = set(signature.parameters) ^ set(entry.units)
        if unknown:
            raise TypeError(f"{entry.name}: units and arguments differ in {sorted(unknown)}")
        names = tuple(signature.parameters)
        defaults = {name: each.default for name, each in signature.parameters.items() if each.default is not each.empty}
        registry[f"{function.__module__}.{entry.name}"] = entry

        @functools.wraps(function)
        def call(*args: Any, **kwargs: Any) -> Any:
            record = _active.get()
            if record is None and not (entry.domain and _checking.get()):
                return function(*args, **kwargs)
            arguments = defaults | dict(zip(names, args, strict=False)) | kwargs
            _check_domain(entry, arguments)
            result = function(*args, **kwargs)
            if record is not None:
                record.steps.append(Step(entry, {name: arguments[name] for name in names}, result))
            return result

        return call  # type: ignore[return-value]

    return register


def _inside(value: Any, low: float, high: float) -> bool:
    if isinstance(value, float | int):
        return low <= value <= high
    values = np.asarray(value, dtype=float)
    return values.size == 0 or bool(values.min() >= low and values.max() <= high)


def _check_domain(entry: Formula, arguments: Mapping[str, Any]) -> None:
    for name, (low, high) in entry.domain.items():
        value = arguments.get(name)
        if value is None or _inside(value, low, high):
            continue
        values = np.asarray(value, dtype=float)
        given = f"{values.item():g}" if values.ndim == 0 else f"values from {values.min():g} to {values.max():g}"
        bounds = f"at least {low:g}" if high == INFINITY else f"between {low:g} and {high:g}"
        raise ValueError(f"{entry.name}: {name} must be {bounds} [{entry.units[name]}], given {given}")
