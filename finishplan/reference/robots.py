"""Class figures of robots, for what a cell does not state of its own."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Final

from finishplan.reference.table import Record, Table
from finishplan.reference.value import Value


@dataclass(frozen=True)
class RobotClass:
    """Robots of one kind; stiffness and mass are those felt at the tool."""

    name: str
    title: str
    path_accuracy: Value
    stiffness: Value
    top_speed: Value
    acceleration: Value
    normal_acceleration: Value
    force_bandwidth: Value
    effective_mass: Value
    aliases: ClassVar[tuple[str, ...]] = ()


_KINDS: Final = {
    "path_accuracy": "length",
    "stiffness": "stiffness",
    "top_speed": "feed",
    "acceleration": "acceleration",
    "normal_acceleration": "acceleration",
    "force_bandwidth": "frequency",
    "effective_mass": "mass",
}


def _read(name: str, record: Record) -> RobotClass:
    return RobotClass(name=name, title=record.text("title"), **record.values(_KINDS))


ROBOTS: Final = Table("robots", "robot class", _read)
