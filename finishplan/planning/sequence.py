"""The sequence of grits: every way through the grits at hand, and what may refine the surface after the last.

A grit has to take off the scratches of the one before, so what a step costs depends on the step
before it and on nothing else: the sequences are the paths of a graph. There are few enough of them
to price every one, which also gives the second best.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Protocol, TypeVar

MOST_STEPS = 5


class Grade(Protocol):
    """A grit on a tool, as the sequence needs it."""

    @property
    def grain_size(self) -> float: ...

    @property
    def step_ratio(self) -> float: ...


Node = TypeVar("Node", bound=Grade)
Finisher = TypeVar("Finisher")


def sequences(nodes: Sequence[Node], may_end: Callable[[Node], bool]) -> Iterator[tuple[Node, ...]]:
    """Every strictly finer sequence of at most five grits that ends where it may.

    From one grit to the next the grain size falls by no more than the step ratio of the finer one.

    Parameters
    ----------
    nodes : sequence
        Grits at hand on their tools.
    may_end : callable
        Whether the sequence may end with a grit: it reaches the roughness asked for.

    Yields
    ------
    tuple
        Grits in order of use.
    """
    ordered = sorted(nodes, key=lambda node: -node.grain_size)
    for node in ordered:
        yield from _continued((node,), ordered, may_end)


def _continued(
    begun: tuple[Node, ...], ordered: Sequence[Node], may_end: Callable[[Node], bool]
) -> Iterator[tuple[Node, ...]]:
    last = begun[-1]
    if may_end(last):
        yield begun
    if len(begun) == MOST_STEPS:
        return
    for node in ordered:
        finer = node.grain_size < last.grain_size * 0.999
        if finer and last.grain_size <= node.grain_size * node.step_ratio:
            yield from _continued((*begun, node), ordered, may_end)


def with_finish(chains: Iterable[tuple[Node, ...]], finishers: Sequence[Finisher]) -> list[tuple[Node | Finisher, ...]]:
    """Every sequence as it is, and followed by each product that refines what its last grit leaves.

    Parameters
    ----------
    chains : iterable of tuple
        Sequences of grits; an empty one lets a product refine the surface as found.
    finishers : sequence
        Products at hand that refine; one comes last or not at all.

    Returns
    -------
    list of tuple
        Sequences of at least one step.
    """
    endings: list[tuple[Finisher, ...]] = [(), *((finisher,) for finisher in finishers)]
    return [chain + ending for chain in chains for ending in endings if chain + ending]
