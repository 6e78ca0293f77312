"""The exceptions finishplan raises, and the fault record that job and drawing errors are made of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches


@dataclass(frozen=True)
class Fault:
    """One thing wrong in an input: where it is, what was given, what is wanted, what to write.

    `file` is the name as the user wrote it, `line` and `column` count from 1 and are 0 where
    the input has no lines (a drawing, a missing file).
    """

    file: str
    key: str
    wanted: str
    given: str = ""
    write: str = ""
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        place = self.file + (f":{self.line}" if self.line else "")
        parts = [f"{place}: {self.key}: " if self.key else f"{place}: "]
        if self.given:
            parts.append(f"given {self.given}; ")
        parts.append(f"wanted {self.wanted}")
        if self.write:
            parts.append(f"; write {self.write}")
        return "".join(parts)


class FinishplanError(Exception):
    """Base of every error finishplan raises on purpose; anything else is a defect of the program."""


class InputError(FinishplanError):
    """Faulty input. Carries every fault found, so that all can be mended in one go."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class JobError(InputError):
    """A job or cell file that cannot be used as it stands."""


class GeometryError(InputError):
    """A drawing or mesh that cannot be read as finishing geometry."""


class ReferenceDataError(FinishplanError):
    """A name that the reference tables do not hold, or a table that is malformed."""


class UnitError(FinishplanError):
    """Text that is not a number with an accepted unit.

    Carries the parts of a fault; whoever knows the file and key completes them.
    """

    def __init__(self, given: str, wanted: str, write: str = "") -> None:
        self.given, self.wanted, self.write = given, wanted, write
        super().__init__(f"given {given}; wanted {wanted}" + (f"; write {write}" if write else ""))


class OutputError(FinishplanError):
    """A result that cannot be written where it was asked for."""


class InfeasibleError(FinishplanError):
    """Raised by library callers that demand a feasible plan and get none."""


def nearest(name: str, known: Iterable[str], count: int = 3) -> list[str]:
    """Names in `known` close to `name`, best first, compared without regard to case."""
    by_fold = {candidate.casefold(): candidate for candidate in known}
    return [by_fold[hit] for hit in get_close_matches(name.casefold(), by_fold, n=count, cutoff=0.5)]
