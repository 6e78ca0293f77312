"""The order in which a part is worked: what must come first, then the fewest tool changes, then short air moves.

Fewest changes fix which tools are taken up one after another. Within that the works are a route: a
mark for every visit stands in it, which only works of that visit's station may follow, and the works
keep their places to the marks and to one another. A work without a place on the part makes no way,
so that it is left out of the route and put in where it may stand.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby, pairwise
from typing import Final

import numpy as np

from finishplan.planning.route import (
    MOST_STARTS,
    Order,
    Points,
    Relation,
    best_improved,
    moves_between,
    nearest_next,
)
from finishplan.planning.visits import Visit, fewest_visits

NOWHERE: Final = np.full(2, np.nan)


CLOSING: Final = Visit("", ())
"""Stands for putting the last tool away, after all works."""


@dataclass(frozen=True, eq=False)
class Work:
    """Work with one tool that is not interrupted, from where it starts to where it ends [m].

    A work without a place on the part has not-a-number for both.
    """

    station: str
    start: Points = field(default_factory=lambda: NOWHERE)
    end: Points = field(default_factory=lambda: NOWHERE)

    @property
    def placed(self) -> bool:
        return bool(np.isfinite([self.start, self.end]).all())


def best_order(works: Sequence[Work], before: Relation, rack: Points | None = None) -> list[int]:
    """Order of the works of a part.

    Parameters
    ----------
    works : sequence of Work
        What is to be done.
    before : (n, n) array of bool
        Whether the work of the row comes before that of the column; without loops.
    rack : (2,) array, optional
        Where tools are changed [m]; without it the ways there count with the time of a change.

    Returns
    -------
    list of int
        Numbers of the works in the order they are done.
    """
    sequences = fewest_visits([work.station for work in works], before)
    orders = [_order(works, visits, before, rack) for visits in sequences]
    return min(orders, key=lambda order: air_way(works, order, rack))


def air_way(works: Sequence[Work], order: Sequence[int], rack: Points | None = None) -> float:
    """Way between the works of an order as far as their places are known [m].

    Going to the tool changer and coming back counts with the time of the change, unless its place is known.
    """
    in_hand = [list(group) for _, group in groupby((works[index] for index in order), key=lambda work: work.station)]
    way = 0.0
    for number, group in enumerate(in_hand):
        placed = [work for work in group if work.placed]
        way += sum(float(np.linalg.norm(work.start - last.end)) for last, work in pairwise(placed))
        if rack is not None and placed:
            # the tool of the last works may stay in hand for the next part
            kept = in_hand[0][0].station == in_hand[-1][0].station
            taken_up, put_away = not (kept and number == 0), not (kept and number + 1 == len(in_hand))
            way += taken_up * float(np.linalg.norm(placed[0].start - rack))
            way += put_away * float(np.linalg.norm(placed[-1].end - rack))
    return way


def _order(works: Sequence[Work], visits: Sequence[Visit], before: Relation, rack: Points | None) -> list[int]:
    """Order of the works in given visits, with the shortest way found."""
    visits = visits if rack is None else [*visits, CLOSING]
    unplaced = [[index for index in visit.works if not works[index].placed] for visit in visits]
    routes = _routes(works, visits, before, rack)
    return [index for route, others in zip(routes, unplaced, strict=True) for index in _merged(route, others, before)]


def _routes(works: Sequence[Work], visits: Sequence[Visit], before: Relation, rack: Points | None) -> list[list[int]]:
    """The placed works of every visit in order; one that several visits could do is where it makes least way."""
    placed = [[index for index in visit.works if works[index].placed] for visit in visits]
    numbers = np.array([index for group in placed for index in group], dtype=np.intp)
    if not len(numbers):
        return placed
    moves, bound = _way(works, visits, numbers, rack), _bound(works, visits, before, numbers)
    groups = np.split(len(visits) + np.arange(len(numbers)), np.cumsum([len(group) for group in placed])[:-1])
    begun = [_begun(groups, moves, bound, first) for first in range(min(len(numbers), MOST_STARTS))]
    best = best_improved(begun, moves, bound)
    parts = np.split(best, np.flatnonzero(best < len(visits)))[1:]
    return [[int(numbers[item - len(visits)]) for item in part[1:]] for part in parts]


def _way(works: Sequence[Work], visits: Sequence[Visit], numbers: Order, rack: Points | None) -> Points:
    """Way from each mark and work to each [m], too far between those that do not belong together."""
    starts, ends = (np.array([getattr(works[index], at) for index in numbers]) for at in ("start", "end"))
    stations = np.array([visit.station for visit in visits] + [works[index].station for index in numbers])
    moves = np.zeros((len(stations), len(stations)))
    marks = len(visits)
    moves[marks:, marks:] = moves_between(starts, ends)
    if rack is not None:
        # the tool of the first visit is in hand from the part before where that of the last is the same
        first = int(visits[0].station == visits[-2].station)
        moves[first:marks, marks:] = np.linalg.norm(starts - rack, axis=1)
        moves[marks:, : marks - first] = np.linalg.norm(ends - rack, axis=1)[:, None]
    strange = stations[:, None] != stations
    # a mark may follow anything, but nothing comes before the first
    strange[:, :marks] = False
    strange[marks:, 0] = True
    moves[strange] = (1.0 + moves.max()) * len(stations)
    return moves


def _bound(works: Sequence[Work], visits: Sequence[Visit], before: Relation, numbers: Order) -> Relation:
    """What comes before what among marks and works."""
    marks = len(visits)
    bound = np.zeros((marks + len(numbers), marks + len(numbers)), dtype=np.bool_)
    bound[:marks, :marks] = np.triu(np.ones((marks, marks), dtype=np.bool_), 1)
    bound[marks:, marks:] = before[np.ix_(numbers, numbers)]
    bound[marks:, :marks] = [visit is CLOSING for visit in visits]
    for number, visit in enumerate(visits):
        unplaced = [index for index in visit.works if not works[index].placed]
        bound[number, marks:] |= before[unplaced][:, numbers].any(axis=0)
        if number + 1 < marks:
            bound[marks:, number + 1] |= before[numbers][:, unplaced].any(axis=1)
    return bound


def _begun(groups: Sequence[Order], moves: Points, bound: Relation, first: int) -> Order:
    """A route that goes through every visit to the nearest work next."""
    parts: list[Order] = []
    for mark, group in enumerate(groups):
        inner = np.ix_(group, group)
        parts += [np.array([mark]), group[nearest_next(moves[inner], bound[inner], first)]]
    return np.concatenate(parts)


def _merged(route: Sequence[int], others: Sequence[int], before: Relation) -> Iterator[int]:
    """The works of a visit: those of the route in its order, the others as soon as nothing is before them."""
    route, others = list(route), list(others)
    while waiting := [*others, *route]:
        following = next(index for index in [*others, *route[:1]] if not before[waiting, index].any())
        yield following
        (others if following in others else route).remove(following)
