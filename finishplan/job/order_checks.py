"""Checks of the order a job asks for: what a feature waits for exists, is another one, and does not wait for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from itertools import pairwise
from typing import Final, TypeAlias

from finishplan.errors import Fault, nearest
from finishplan.job.positions import Location
from finishplan.job.source import Portion
from finishplan.job.written import closest, items, listed, names
from finishplan.units import quoted

FEATURES: Final = ("edge", "surface", "contour", "removal")
"""Lists of a job that hold features."""

Wait: TypeAlias = tuple[str, str]
"""Name of a feature, and of one it waits for."""


def order_faults(job: Portion) -> Iterator[Fault]:
    """Every name under `after` that leads nowhere, and every loop of features that wait for one another."""
    known, waits = names(job, *FEATURES), _waits(job)
    for place, (name, first) in waits.items():
        others = [other for other in known if other != name]
        if first == name:
            yield job.fault(place, "another feature than the one that waits")
        elif first not in known:
            close = ", ".join(map(quoted, nearest(first, others) or others)) or "it has no other"
            yield job.fault(place, f"a feature of the job: {close}", write=closest(first, others))
    # A name that two features bear is a fault of its own, and says nothing about who waits for whom.
    sound = {place: wait for place, wait in waits.items() if all(known.count(name) == 1 for name in wait)}
    yield from _loops(job, {place: wait for place, wait in sound.items() if wait[0] != wait[1]})


def _waits(job: Portion) -> dict[Location, Wait]:
    """Every entry under `after` that is text, by its place."""
    return {
        (kind, index, "after", number): (feature["name"], first)
        for kind in FEATURES
        for index, feature in listed(job, kind)
        for number, first in enumerate(items(feature, "after"))
        if isinstance(feature.get("name"), str) and isinstance(first, str)
    }


def _loops(job: Portion, waits: Mapping[Location, Wait]) -> Iterator[Fault]:
    """One fault for each loop, at the entry that is written last in it; without that entry the loop is open."""
    left = dict(waits)
    while loop := _loop(left.values()):
        closing = [place for place, wait in left.items() if wait in loop]
        last = max(closing, key=lambda place: job.source.position(job.prefix + place))
        turn = loop.index(left[last])
        told = " after ".join(quoted(name) for name, _ in [*loop[turn:], *loop[:turn], loop[turn]])
        yield job.fault(last, f"an order without a loop, not {told}")
        left = {place: wait for place, wait in left.items() if wait != left[last]}


def _loop(waits: Iterable[Wait]) -> list[Wait]:
    """Waits that follow one another round a loop; none where there is no loop."""
    sorter: TopologicalSorter[str] = TopologicalSorter()
    for name, first in waits:
        sorter.add(name, first)
    try:
        sorter.prepare()
    except CycleError as error:
        # each name of the list is waited for by the next
        around = error.args[1][::-1]
        return list(pairwise(around))
    return []
