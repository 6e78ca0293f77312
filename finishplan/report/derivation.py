"""A derivation on the terminal and as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Final

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from finishplan import units
from finishplan.planning.derivation import Derivation, DerivationStep
from finishplan.report.tabular import dump
from finishplan.units import System

_KIND_OF_UNIT: Final[Mapping[str, str]] = {
    "m": "fine length",
    "m^2": "area",
    "m^3": "volume",
    "m^3/s": "removal rate",
    "1/Pa": "removal coefficient",
    "K": "temperature difference",
    "W/(m K)": "conductivity",
    "m^2/s": "diffusivity",
    "m/s": "feed",
    "N": "force",
    "N/m": "stiffness",
    "N m": "torque",
    "Pa": "strength",
    "W": "power",
    "kg": "mass",
    "rad": "angle",
    "s": "time",
    "1": "number",
}
_KIND_OF_NAME: Final[Mapping[str, str]] = {
    "spindle speed": "rotation",
    "curve speeds": "rotation",
    "surface speed": "surface speed",
    "bandwidth": "frequency",
    "natural frequency": "frequency",
    "device pressure": "pressure",
}


def as_json(derivation: Derivation, system: System) -> str:
    """The derivation as JSON; figures in SI units, as the model worked with them."""
    return dump(asdict(derivation) | {"units": "SI"})


def print_derivation(derivation: Derivation, system: System, console: Console) -> None:
    """Print every step: result, equation, values with their origin, and the source of the relation."""
    of = f"{derivation.quantity} of " if derivation.quantity else ""
    console.print(Text.assemble((f"{of}{derivation.feature}", "bold"), f"  with {derivation.tool}, nominal state"))
    for step in derivation.steps:
        console.print()
        _print_step(step, system, console)


def _print_step(step: DerivationStep, system: System, console: Console) -> None:
    result = _shown(step.quantity, step.result, step.unit, system)
    console.print(Text.assemble((f"{step.number:>3}  {step.quantity} = {result}", "bold")))
    console.print(Padding(Text(step.equation), (0, 0, 0, 5)))
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=False)
    table.add_column()
    table.add_column(justify="right", no_wrap=True)
    table.add_column(style="dim")
    for line in step.inputs:
        table.add_row(line.name, _shown(line.name, line.values, line.unit, system), Text(line.origin))
    console.print(Padding(table, (0, 0, 0, 5)))
    console.print(Padding(Text(f"relation: {step.source}", style="dim"), (0, 0, 0, 5)))
    for doubt in step.doubts:
        console.print(Padding(Text(doubt, style="yellow"), (0, 0, 0, 5)))


def _shown(name: str, values: tuple[float, ...], unit: str, system: System) -> str:
    """Values with four digits in the units a reader expects for this name; nothing for a choice among words."""
    if not values:
        return ""
    kind = _KIND_OF_NAME.get(name) or _KIND_OF_UNIT.get(unit)
    if kind is None:
        return f"{_listed(values)} {unit}"
    shown = units.KINDS[kind].shown(system)
    return f"{_listed(tuple(units.shown_value(value, kind, system) for value in values))} {shown.unit}".rstrip()


def _listed(values: tuple[float, ...]) -> str:
    return ", ".join(f"{value:.0f}" if 1e4 <= abs(value) < 1e9 else f"{value:.4g}" for value in values)
