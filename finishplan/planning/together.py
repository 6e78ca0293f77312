"""Searching for many features at once.

A feature says what it wants searched as a generator: it yields operations, is sent what was found for each, and
returns what it made of them. What all features wait for at the same time is searched in one go.
"""

from __future__ import annotations

from collections.abc import Generator, Sequence
from typing import TypeAlias, TypeVar

from finishplan.planning.operation import Operation
from finishplan.planning.search import Found, search_all

Made = TypeVar("Made")
Searching: TypeAlias = Generator[Sequence[Operation], Sequence[Found], Made]


def answered(searching: Searching[Made], margin: float) -> Made:
    """What a generator returns once all it asks for has been searched with a margin."""
    try:
        asked = next(searching)
        while True:
            asked = searching.send(search_all(asked, margin))
    except StopIteration as end:
        made: Made = end.value
        return made


def side_by_side(searchings: Sequence[Searching[Made]]) -> Searching[list[Made]]:
    """Several generators as one, which yields all operations they wait for at the same time.

    Parameters
    ----------
    searchings : sequence of generator
        Each yields operations and is sent a Found for every one of them.

    Returns
    -------
    generator
        It returns what each of them returns, in their order.
    """
    made: dict[int, Made] = {}
    answers: dict[int, Sequence[Found] | None] = dict.fromkeys(range(len(searchings)))
    while answers:
        asked: dict[int, Sequence[Operation]] = {}
        for index, founds in answers.items():
            try:
                asked[index] = next(searchings[index]) if founds is None else searchings[index].send(founds)
            except StopIteration as end:
                made[index] = end.value
        told = iter((yield [operation for operations in asked.values() for operation in operations]) if asked else ())
        answers = {index: [next(told) for _ in operations] for index, operations in asked.items()}
    return [made[index] for index in range(len(searchings))]
