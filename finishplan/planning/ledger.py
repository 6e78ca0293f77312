"""Where every figure of a plan came from.

Figures enter the conditions of a model through the ledger, which makes each a float object of its
own and remembers its origin. A recorded call is then traced back by object identity, so two
figures that happen to be equal are never mistaken for one another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from finishplan import units
from finishplan.reference import Value, default

OriginKind = Literal["job", "cell", "reference", "assumption", "derived", "setting"]


@dataclass(frozen=True)
class Origin:
    """Where one figure came from, in words a reader can follow.

    `quantity` is a key of `finishplan.units.KINDS`; `value` is in SI units. `title` says in plain
    words what was assumed, and is empty for any other kind of origin.
    """

    field: str
    kind: OriginKind
    text: str
    quantity: str
    value: float
    title: str = ""
    grade: str = ""


@dataclass
class Ledger:
    """The figures of one operation, by field ("group.name") and by object."""

    by_field: dict[str, Origin] = field(default_factory=dict)
    _by_identity: dict[int, Origin] = field(default_factory=dict)
    _kept: list[object] = field(default_factory=list)

    def enter(
        self, name: str, kind: OriginKind, value: float, quantity: str, text: str, *, title: str = "", grade: str = ""
    ) -> np.float64:
        """Take a figure into the ledger and return it as an object of its own."""
        figure = np.float64(value)
        origin = Origin(name, kind, text, quantity, float(value), title, grade)
        self.by_field[name] = origin
        self._by_identity[id(figure)] = origin
        self._kept.append(figure)
        return figure

    def given(self, name: str, value: float, quantity: str, place: str, *, kind: OriginKind = "job") -> np.float64:
        """A figure the job or cell file states."""
        return self.enter(name, kind, value, quantity, place)

    def looked_up(self, name: str, entry: Value, quantity: str) -> np.float64:
        """A figure of the reference tables."""
        return self.enter(name, "reference", entry.value, quantity, describe(entry))

    def assumed(self, name: str, default_name: str, quantity: str, scale: float = 1.0, title: str = "") -> np.float64:
        """A named default, listed among the plan's assumptions.

        `scale` turns a share into a size, which then goes by a `title` of its own.
        """
        entry = default(default_name)
        text = f"assumed, {describe(entry)}"
        return self.enter(
            name, "assumption", entry.value * scale, quantity, text, title=title or entry.title, grade=entry.grade
        )

    def assumed_of_class(self, name: str, entry: Value, quantity: str, kind: str) -> np.float64:
        """A figure of the equipment's class, listed among the plan's assumptions."""
        return self.assumed_entry(
            name, entry, quantity, f"{name.rsplit('.')[-1].replace('_', ' ')} of a robot of the {kind} class"
        )

    def assumed_entry(self, name: str, entry: Value, quantity: str, title: str) -> np.float64:
        """A figure of the tables that stands in for one the job leaves out."""
        text = f"assumed, {describe(entry)}"
        return self.enter(name, "assumption", entry.value, quantity, text, title=title, grade=entry.grade)

    def derived(self, name: str, value: float, quantity: str, text: str) -> np.float64:
        """A figure worked out from others before the model runs."""
        return self.enter(name, "derived", value, quantity, text)

    def record(self, name: str, result: np.float64, quantity: str, text: str) -> np.float64:
        """Note the origin of a formula's result without making a new object of it."""
        self.by_field[name] = Origin(name, "derived", text, quantity, float(result))
        return result

    def gather(self, name: str, figures: Sequence[np.float64], quantity: str) -> NDArray[np.float64]:
        """Several figures as one array, whose origin names the origin of each."""
        together = np.array(figures)
        texts = (f"{units.show(float(figure), quantity)} {self._by_identity[id(figure)].text}" for figure in figures)
        origin = Origin(name, "derived", "; ".join(texts), quantity, float(together.max()))
        self.by_field[name] = self._by_identity[id(together)] = origin
        self._kept.append(together)
        return together

    def origin_of(self, figure: object) -> Origin | None:
        """Origin of this very object, if it entered through the ledger."""
        return self._by_identity.get(id(figure))

    def assumptions(self) -> list[Origin]:
        """Every named default in use, in the order they were taken up."""
        return [origin for origin in self.by_field.values() if origin.kind == "assumption"]


def describe(entry: Value) -> str:
    """Table path, source and grade of a reference value in one phrase."""
    return f"{entry.path} ({entry.source}, {entry.locator}; {entry.grade})"
