"""Phrases and small steps that rules share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from finishplan import reference
from finishplan.hazards.note import Provision

AUTHORITY: Final = "the authority in charge and the licensed practice responsible for the cell"
HYGIENIST: Final = "an industrial hygienist by measurement, then the authority in charge"
FIRE_EXPERT: Final = "a dust hazard analysis on a tested sample; the fire authority"
GUARD_DESIGNER: Final = "the machinery risk assessment (ISO 12100) of whoever puts the cell into service"
MAKER: Final = "the marking and the instructions of tool and spindle; the machinery risk assessment"


def asked(**stated: object) -> tuple[str, ...]:
    """Keys of the installed table that nobody has stated."""
    return tuple(f"installed.{key}" for key, value in stated.items() if value is None)


def remembered(grade: str) -> tuple[str, ...]:
    """A warning where a threshold is not from print."""
    return ("threshold known from memory: read it up in the source",) if grade == "from memory" else ()


def provided(what: str, stated: bool | None, wanted: str) -> Provision:
    """Something that is either there or not."""
    words = None if stated is None else "yes" if stated else "no"
    return Provision(what, words, wanted, stated)


def default(name: str) -> float:
    """A named default [SI]."""
    return reference.default(name).value


def assumption(name: str, show: Callable[[float], str]) -> str:
    """A named default in words, with its grade."""
    entry = reference.default(name)
    return f"{entry.title}: {show(entry.value)} ({entry.grade})"
