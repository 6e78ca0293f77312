"""What a part costs in the cell, item by item, and what the same work costs and strains by hand.

A figure whose inputs are not all stated is left out and named with what it lacks; nothing is filled in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final, Literal, TypeAlias

import numpy as np

from finishplan import physics
from finishplan.formula import recording
from finishplan.job import Costs, LoadedJob, Manual, Tool
from finishplan.physics import noise
from finishplan.planning.feature import Step
from finishplan.planning.ledger import Ledger, OriginKind
from finishplan.planning.throughput import Throughput
from finishplan.planning.toolife import ToolUse
from finishplan.units import HOUR, YEAR

Works: TypeAlias = Sequence[tuple[str, Sequence[Step]]]
Slot: TypeAlias = Literal["machine", "labour", "tool", "abrasive", "energy"]

KILOWATT_HOUR: Final = 1e3 * HOUR

PER: Final = {
    "machine_rate": HOUR,
    "labour_rate": HOUR,
    "energy_price": KILOWATT_HOUR,
    "parts_per_year": YEAR,
    "time_per_year": YEAR,
}
"""SI size of the unit that a key of the cost tables counts by."""

TIME: Final = "time of the cell per part"
ENERGY: Final = "energy of the spindles per part"
PARTS: Final = "costs.parts_per_year or costs.time_per_year"
LABOUR: Final = "labour at the cell"
LABOUR_BY_HAND: Final = "labour by hand"

STANDINGS: Final = (
    (noise.VIBRATION_LIMIT_VALUE.value, "above the limit value"),
    (noise.VIBRATION_ACTION_VALUE.value, "above the action value"),
)
"""Daily exposures to vibration above which each holds [m/s2], the highest first."""


@dataclass(frozen=True)
class Item:
    """One figure with the relation that gave it and the origin of every value that went in."""

    name: str
    amount: float
    equation: str
    source: str
    origins: tuple[str, ...]


@dataclass(frozen=True)
class Gap:
    """A figure that is left out, and what it lacks."""

    name: str
    missing: tuple[str, ...]


@dataclass(frozen=True)
class Vibration:
    """Daily exposure [m/s2] and points of a worker who does the work by hand, and where that stands."""

    daily: Item
    points: Item
    standing: str


@dataclass(frozen=True)
class PartCosts:
    """Cost of a part and of the same part by hand, in the currency of the cell; payback [s].

    `payback` is infinite where the running costs of the cell eat up the labour saved.
    """

    currency: str
    items: tuple[Item, ...]
    total: float | None
    by_hand: Item | None
    parts_per_year: float | None
    payback: Item | None
    vibration: Vibration | None
    gaps: tuple[Gap, ...]


@dataclass(frozen=True)
class Charge:
    """A formula of the cost of a part, and the figures it takes in their order."""

    name: str
    formula: Callable[..., np.float64]
    needs: tuple[str, ...]


def _by_hand(time: np.float64, rate: np.float64) -> np.float64:
    return np.float64(physics.labour_cost(time, 1.0, rate))


def _payback(investment: np.float64, parts: np.float64, by_hand: np.float64, running: np.float64) -> np.float64:
    saved, spent = (physics.cost_rate(cost, parts) for cost in (by_hand, running))
    return np.float64(physics.payback_time(investment, saved, spent))


def _daily(vibration: np.float64, trigger_share: np.float64, time: np.float64) -> np.float64:
    return np.float64(noise.daily_vibration([vibration], [trigger_share * time]))


def _points(vibration: np.float64, trigger_share: np.float64, time: np.float64) -> np.float64:
    return np.float64(noise.vibration_points([vibration], [trigger_share * time]))


_HELD: Final = ("manual.vibration", "manual.trigger_share", "manual.time_per_shift")
BY_HAND: Final = Charge(LABOUR_BY_HAND, _by_hand, ("manual.time_per_part", "manual.labour_rate"))
PAYBACK: Final = Charge("simple payback", _payback, ("costs.investment", PARTS, LABOUR_BY_HAND, LABOUR))
DAILY: Final = Charge("vibration by hand", _daily, _HELD)
POINTS: Final = Charge("exposure points", _points, _HELD)


@dataclass
class Book:
    """Every figure known, by name, each with its origin; and every figure that was asked for in vain."""

    loaded: LoadedJob
    ledger: Ledger = field(default_factory=Ledger)
    known: dict[str, np.float64] = field(default_factory=dict)
    gaps: list[Gap] = field(default_factory=list)

    def given(self, name: str, value: float | None, location: Sequence[str | int], kind: OriginKind = "cell") -> None:
        """A figure of the cell or job, if stated."""
        if value is not None:
            place = self.loaded.where(*location)
            key = ".".join(str(part) for part in location if isinstance(part, str) and part != "cell")
            self.known[name] = self.ledger.given(name, value, "number", f"{place.file}:{place.line} {key}", kind=kind)

    def derived(self, name: str, value: float, text: str) -> None:
        """A figure of the plan."""
        self.known[name] = self.ledger.derived(name, value, "number", text)

    def table(self, section: Costs | Manual, *location: str) -> None:
        """Every number of a table, per SI unit."""
        for key in type(section).model_fields:
            value = getattr(section, key)
            scaled = None if value is None else value / PER.get(key, 1.0)
            self.given(f"{location[-1]}.{key}", scaled, (*location, key), "cell" if "cell" in location else "job")

    def result(self, charge: Charge) -> Item | None:
        """The figure, or None with a gap noted."""
        missing = tuple(need for need in charge.needs if need not in self.known)
        if missing:
            self.gaps.append(Gap(charge.name, missing))
            return None
        with recording() as record:
            amount = charge.formula(*(self.known[need] for need in charge.needs))
        last = record.steps[-1].formula
        return Item(
            charge.name, float(amount), last.equation, last.source, tuple(self._origin(need) for need in charge.needs)
        )

    def _origin(self, name: str) -> str:
        """Where a figure is written, or how the plan came by it."""
        origin = self.ledger.origin_of(self.known[name])
        assert origin is not None
        return f"{name}: {origin.text}" if origin.kind == "derived" else origin.text


def part_costs(loaded: LoadedJob, throughput: Throughput, tools: Sequence[ToolUse], works: Works) -> PartCosts | None:
    """Cost of a planned part; None where neither cell nor job has a table for it.

    Parameters
    ----------
    loaded : LoadedJob
        The job with its cell.
    throughput : Throughput
        Times of the cell for a part.
    tools : sequence of ToolUse
        Every tool used on it, with its life.
    works : sequence of (feature, steps)
        What is done on it.
    """
    costs, manual = loaded.cell.costs, loaded.job.manual
    if costs is None and manual is None:
        return None
    book = _opened(loaded, throughput, tools, works)
    charges = [] if costs is None else list(_charges(tools))
    found = [(slot, book.result(charge)) for slot, charge in charges]
    items = [(slot, item) for slot, item in found if item is not None]
    by_hand = None if manual is None else book.result(BY_HAND)
    payback = None
    if costs is not None and manual is not None:
        _compare(book, items, by_hand)
        payback = book.result(PAYBACK)
    return PartCosts(
        currency=loaded.cell.currency,
        items=tuple(item for _, item in items),
        total=_sum(items) if items else None,
        by_hand=by_hand,
        parts_per_year=float(book.known[PARTS] * YEAR) if PARTS in book.known else None,
        payback=payback,
        vibration=None if manual is None else _vibration(book),
        gaps=tuple(book.gaps),
    )


def _opened(loaded: LoadedJob, throughput: Throughput, tools: Sequence[ToolUse], works: Works) -> Book:
    """The book with everything job, cell and plan state."""
    book, costs, manual = Book(loaded), loaded.cell.costs, loaded.job.manual
    if costs is not None:
        book.table(costs, "cell", "costs")
    if manual is not None:
        book.table(manual, "manual")
    if "costs.labour_rate" in book.known:
        book.known.setdefault("manual.labour_rate", book.known["costs.labour_rate"])
    book.derived(TIME, throughput.per_part, throughput.composition)
    for use in tools:
        _enter_tool(book, use)
    energy = sum(
        physics.energy_per_part(
            0.0, throughput.cycle, step.found.evaluation.predictions["nominal"].power, step.time.contact
        )
        for _, steps in works
        for step in steps
    )
    book.derived(ENERGY, float(energy), "power at the tool over the time in contact")
    return book


def _enter_tool(book: Book, use: ToolUse) -> None:
    cell = book.loaded.cell
    at = ("tool", cell.tool.index(use.entry)) if isinstance(use.entry, Tool) else (
        "abrasive", cell.abrasive.index(use.entry)
    )  # fmt: skip
    book.given(f"price of {use.tool}", use.entry.price, ("cell", *at, "price"))
    book.derived(f"contact of {use.tool}", use.contact, "time in contact per part")
    if use.life is not None and use.parts is not None:
        book.derived(f"life of {use.tool}", use.life, use.source)
        book.derived(f"parts per {use.tool}", use.parts, use.source)


def _charges(tools: Sequence[ToolUse]) -> Iterator[tuple[Slot, Charge]]:
    """Every item of the cost of a part, and the kind of cost it is."""
    yield "machine", Charge("machine time", physics.machine_cost, (TIME, "costs.machine_rate"))
    yield "labour", Charge(LABOUR, physics.labour_cost, (TIME, "costs.labour_share", "costs.labour_rate"))
    for use in tools:
        price, contact, life = (f"{what} of {use.tool}" for what in ("price", "contact", "life"))
        if isinstance(use.entry, Tool):
            yield "tool", Charge(f"wear of {use.tool}", physics.tool_cost, (price, contact, life))
        else:
            yield "abrasive", Charge(f"wear of {use.tool}", physics.abrasive_cost, (price, f"parts per {use.tool}"))
    yield "energy", Charge("spindle energy in contact", physics.energy_cost, (ENERGY, "costs.energy_price"))


def _sum(items: Sequence[tuple[Slot, Item]], *, running: bool = False) -> float:
    """Cost of a part from its items; the running cost leaves out the machine rate, which writes the cell off."""
    amounts: dict[str, float] = {"machine": 0.0}
    for slot, item in items:
        if not (running and slot == "machine"):
            amounts[slot] = amounts.get(slot, 0.0) + item.amount
    return float(physics.part_cost(**amounts))


def _compare(book: Book, items: Sequence[tuple[Slot, Item]], by_hand: Item | None) -> None:
    """Enter what a payback needs: the output, the labour saved, and what the cell spends on a part instead."""
    known = book.known
    if "costs.parts_per_year" in known:
        known[PARTS] = known["costs.parts_per_year"]
    elif "costs.time_per_year" in known:
        parts = physics.part_rate(known["costs.time_per_year"], known[TIME])
        book.derived(PARTS, float(parts), "costs.time_per_year over the time of the cell per part")
    if by_hand is not None:
        book.derived(LABOUR_BY_HAND, by_hand.amount, by_hand.equation)
    if any(item.name == LABOUR for _, item in items):
        book.derived(LABOUR, _sum(items, running=True), "with wear and energy, without the machine rate")


def _vibration(book: Book) -> Vibration | None:
    """What a worker's hands take up in a shift, which the robot takes over."""
    daily = book.result(DAILY)
    points = None if daily is None else book.result(POINTS)
    if daily is None or points is None:
        return None
    standing = next((words for value, words in STANDINGS if daily.amount > value), "not above the action value")
    return Vibration(daily, points, standing)
