"""How the tool rack is loaded for a part: which tool stands where, and what it is taken up for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import count

from finishplan.job import Abrasive, LoadedJob, Tool
from finishplan.planning.cycle import Cycle
from finishplan.planning.feature import Step
from finishplan.planning.motion import stands_apart


@dataclass(frozen=True)
class Place:
    """One place of the rack. `mounted` are the tool, or the abrasive with each of its grits in turn."""

    slot: int
    station: str
    spindle: str
    mounted: tuple[str, ...]
    features: tuple[str, ...]


def rack(loaded: LoadedJob, cycle: Cycle, works: Sequence[tuple[str, Sequence[Step]]]) -> tuple[Place, ...]:
    """Places of the rack in the order their tools are first taken up; none where every tool stands by itself.

    Slots that the cell fixes are kept; the other tools get the numbers left, lowest first.

    Parameters
    ----------
    loaded : LoadedJob
        The job with its cell.
    cycle : Cycle
        Cycle of the part.
    works : sequence of (feature, steps)
        What is done on it.
    """
    if stands_apart(loaded.cell):
        return ()
    at_hand: list[Tool | Abrasive] = [*loaded.cell.tool, *loaded.cell.abrasive]
    entries = {entry.name: entry for entry in at_hand}
    station_of = {step.tool: step.station for _, steps in works for step in steps}
    fixed = {entry.slot for entry in entries.values() if entry.slot is not None}
    free = (number for number in count(1) if number not in fixed)
    places = []
    for station in dict.fromkeys(station_of[stop.tool] for stop in cycle.stops):
        stops = [stop for stop in cycle.stops if station_of[stop.tool] == station]
        entry = entries[station]
        places.append(
            Place(
                slot=next(free) if entry.slot is None else entry.slot,
                station=station,
                spindle=entry.spindle,
                mounted=tuple(dict.fromkeys(stop.tool for stop in stops)),
                features=tuple(dict.fromkeys(stop.feature for stop in stops)),
            )
        )
    return tuple(places)
