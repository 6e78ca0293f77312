"""Tools taken up one after another: the fewest visits that leave every piece of work done in its turn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from finishplan.planning.route import Relation

MOST_BEGUN: Final = 100
"""Beginnings that are followed further: all of them for a cell's few tools, else the ones that got furthest."""

MOST_KEPT: Final = 4
"""Equally good sequences of visits that are told apart by their air moves."""


@dataclass(frozen=True)
class Visit:
    """A tool's station from taking it up to putting it away, and the numbers of the works done with it."""

    station: str
    works: tuple[int, ...]


def tool_changes(stations: Sequence[str]) -> int:
    """Changes of tool a part takes, the one back to the first tool for the next part with them."""
    return sum(station != stations[place - 1] for place, station in enumerate(stations))


def fewest_visits(stations: Sequence[str], before: Relation) -> list[tuple[Visit, ...]]:
    """Sequences of visits with the fewest tool changes, and no more visits than that takes.

    With a tool in hand every work that may be done is done: leaving one for later never saves a visit.

    Parameters
    ----------
    stations : sequence of str
        Station of each work.
    before : (n, n) array of bool
        Whether the work of the row comes before that of the column.

    Returns
    -------
    list of tuple of Visit
        At least one sequence; all have the same number of changes.
    """
    begun: list[tuple[Visit, ...]] = [()]
    while not (done := [visits for visits in begun if _count(visits) == len(stations)]):
        begun = _furthest(longer for visits in begun for longer in _continued(visits, stations, before))
    fewest = min(map(_changes, done))
    return [visits for visits in done if _changes(visits) == fewest][:MOST_KEPT]


def _changes(visits: Sequence[Visit]) -> int:
    return tool_changes([visit.station for visit in visits])


def _count(visits: Sequence[Visit]) -> int:
    return sum(len(visit.works) for visit in visits)


def _furthest(begun: Iterable[tuple[Visit, ...]]) -> list[tuple[Visit, ...]]:
    """One beginning for each set of works done between the same first and last tools, furthest first."""
    by_state: dict[tuple[frozenset[int], str, str], tuple[Visit, ...]] = {}
    for visits in begun:
        works = frozenset(work for visit in visits for work in visit.works)
        by_state.setdefault((works, visits[0].station, visits[-1].station), visits)
    return sorted(by_state.values(), key=lambda visits: -_count(visits))[:MOST_BEGUN]


def _continued(visits: tuple[Visit, ...], stations: Sequence[str], before: Relation) -> Iterable[tuple[Visit, ...]]:
    """A beginning with one visit more, to every station at which some work may be done."""
    left = np.ones(len(stations), dtype=np.bool_)
    left[[work for visit in visits for work in visit.works]] = False
    ready = np.flatnonzero(left & ~before[left].any(axis=0))
    for station in dict.fromkeys(stations[int(work)] for work in ready):
        yield (*visits, Visit(station, _workable(station, stations, before, left)))


def _workable(station: str, stations: Sequence[str], before: Relation, left: Relation) -> tuple[int, ...]:
    """What can be done of the works left without changing the tool."""
    works: list[int] = []
    left = left.copy()
    here = np.array([each == station for each in stations], dtype=np.bool_)
    while len(ready := np.flatnonzero(left & here & ~before[left].any(axis=0))):
        works.extend(map(int, ready))
        left[ready] = False
    return tuple(works)
