"""What each process shows of its steps. The type of a feature's detail chooses; a process registers its own."""

from __future__ import annotations

from collections.abc import Iterable
from functools import singledispatch
from typing import Any

from finishplan.planning.feature import Option, Step
from finishplan.report.figures import Figure


@singledispatch
def process(detail: Any) -> str:
    """Name of the process; steps of one name have the same figures."""
    raise TypeError(f"no rows for {type(detail).__name__}")


@singledispatch
def settings(detail: Any, step: Step) -> Iterable[Figure]:
    """What the programmer sets."""
    raise TypeError(f"no settings for {type(detail).__name__}")


@singledispatch
def result(detail: Any, step: Step) -> Iterable[Figure]:
    """What to expect."""
    raise TypeError(f"no result for {type(detail).__name__}")


@singledispatch
def notes(detail: Any, chosen: Option) -> Iterable[str]:
    """What to mind, in words."""
    raise TypeError(f"no notes for {type(detail).__name__}")
