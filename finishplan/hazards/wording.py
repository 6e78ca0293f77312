"""Phrases and small steps that rules share."""

from __future__ import annotations

from typing import Final

from finishplan import reference, units
from finishplan.hazards.note import Amount, Provision
from finishplan.physics.dust import exposure_limits

AUTHORITY: Final = "the authority in charge and the licensed practice responsible for the cell"
HYGIENIST: Final = "an industrial hygienist by measurement, then the authority in charge"
FIRE_EXPERT: Final = "a dust hazard analysis on a tested sample; the fire authority"
GUARD_DESIGNER: Final = "the machinery risk assessment (ISO 12100) of whoever puts the cell into service"
MAKER: Final = "the marking and the instructions of tool and spindle; the machinery risk assessment"

NO_TIME_LOST: Final = "no time is lost between parts, so that a shift has more than planned: exposure errs high"


def asked(**stated: object) -> tuple[str, ...]:
    """Keys of the installed table that nobody has stated."""
    return tuple(f"installed.{key}" for key, value in stated.items() if value is None)


def remembered(grade: str) -> tuple[str, ...]:
    """A warning where a threshold is not from print."""
    return ("threshold known from memory: read it up in the source",) if grade == "from memory" else ()


def from_memory(grade: str) -> str:
    """What follows a figure or a clause that is not from print."""
    return " (from memory)" if grade == "from memory" else ""


def limits_told(substance: str, before: str = "") -> tuple[Amount, ...]:
    """Every limit of a substance, whoever sets it, with what is limited and how well it is known."""
    return tuple(
        Amount(f"{before}{row.authority}, {row.kind}, {row.fraction}{from_memory(row.grade)}", row.value, "exposure")
        for row in exposure_limits(substance)
    )


def provided(what: str, stated: bool | None, wanted: str) -> Provision:
    """Something that is either there or not."""
    words = None if stated is None else "yes" if stated else "no"
    return Provision(what, words, wanted, stated)


def default(name: str) -> float:
    """A named default [SI]."""
    return reference.default(name).value


def assumption(name: str, kind: str) -> str:
    """A named default in words, with its grade."""
    entry = reference.default(name)
    return f"{entry.title}: {units.show(entry.value, kind)} ({entry.grade})"
