"""Grain sizes of abrasives by designation, in the systems that number them."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from finishplan.errors import ReferenceDataError
from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value

PREFIXES: Final = {"FEPA-P": "P", "FEPA-F": "F", "CAMI": "CAMI ", "ISO 6106": "D"}
"""Systems of grit numbers, and what each writes in front of the number."""

_SYSTEM_OF: Final = {"p": "FEPA-P", "f": "FEPA-F", "cami": "CAMI", "ansi": "CAMI", "d": "ISO 6106"}
_DESIGNATION: Final = re.compile(r"\s*(?P<prefix>[a-z]*)[\s-]*(?P<number>[0-9]{1,6})\s*", re.IGNORECASE | re.ASCII)


@dataclass(frozen=True)
class Grit:
    """One grit: its designation, the system that grades it, and its mean or median grain [m]."""

    name: str
    system: str
    size: Value

    @property
    def number(self) -> int:
        """The grit number; it means a size only together with the system."""
        return int(self.name.removeprefix(PREFIXES[self.system]))

    @property
    def aliases(self) -> tuple[str, ...]:
        """The older American system goes by its institute, CAMI, or by its standard, ANSI B74.18."""
        return (f"ANSI {self.number}",) if self.system == "CAMI" else ()


def _read(name: str, record: Record) -> Grit:
    system = record.choice("system", tuple(PREFIXES))
    if re.fullmatch(rf"{PREFIXES[system]}[1-9][0-9]*", name) is None:
        raise record.refuse("system", f"a grit of {system} is called {PREFIXES[system]}NUMBER")
    return Grit(name, system, **record.values({"size": "length"}))


class _GritTable(Table[Grit]):
    """The table of grits, which answers a miss with the grits on either side of it."""

    def find(self, name: str) -> Grit:
        try:
            return super().find(name)
        except ReferenceDataError:
            reason = f"grit {name!r} is not in materials/grits.toml; {self._hint(name)}"
            raise ReferenceDataError(reason) from None

    def _hint(self, name: str) -> str:
        given = _DESIGNATION.fullmatch(name)
        if given is None or given["prefix"].casefold() not in _SYSTEM_OF:
            return "a number means a grain size only with its system, as in P120, F120, CAMI 120 or D126"
        return self._beside(_SYSTEM_OF[given["prefix"].casefold()], int(given["number"]))

    def _beside(self, system: str, number: int) -> str:
        held = self.of_system(system)
        for coarser, finer in pairwise(held):
            # the number of a diamond grit is a size, so that it falls where the others rise
            if min(coarser.number, finer.number) < number < max(coarser.number, finer.number):
                return f"next to it in {system}: {coarser.name!r}, {finer.name!r}"
        return f"{system} runs from {held[0].name!r} to {held[-1].name!r}"

    def of_system(self, system: str) -> list[Grit]:
        """The grits of one system, coarse to fine.

        Raises
        ------
        ReferenceDataError
            No grit is graded by that system.
        """
        if system not in PREFIXES:
            raise ReferenceDataError(f"no grit system is called {system!r}; there is {', '.join(PREFIXES)}")
        of_system = (row for row in self.rows.values() if row.system == system)
        return sorted(of_system, key=lambda row: row.size.value, reverse=True)


GRITS: Final = _GritTable("grits", "grit", _read)
