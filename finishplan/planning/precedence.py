"""Which features of a part are finished before which: as the job says, and else as is usual in the trade."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations, product
from typing import Final, TypeAlias

import numpy as np

from finishplan.job import Job

Precedence: TypeAlias = Mapping[str, frozenset[str]]
"""For every feature the names of all that are finished before it."""

STAGES: Final = (("removal", "contour"), ("edge",), ("surface",))
"""Kinds of features from first to last: to shape, then free of burrs, then to its finish.

Grinding and trimming throw up new burrs, and deburring may mark a finished surface. Common practice,
no published source.
"""


def precedence(job: Job) -> Precedence:
    """What is finished before every feature of a job.

    What the job gives under `after` holds in any case. The usual order of the stages is kept pair by
    pair, earliest stages first; a pair is dropped where what is already settled says the opposite.
    """
    features = {kind: getattr(job, kind) for stage in STAGES for kind in stage}
    number = {feature.name: index for index, feature in enumerate(each for kind in features.values() for each in kind)}
    earlier = np.zeros((len(number), len(number)), dtype=np.bool_)

    def settle(first: int, later: int) -> None:
        """Note a pair with all that follows from it."""
        to_first, from_later = earlier[:, first].copy(), earlier[later].copy()
        to_first[first] = from_later[later] = True
        earlier[np.ix_(to_first, from_later)] = True

    for kind in features.values():
        for feature in kind:
            for first in feature.after or ():
                settle(number[first], number[feature.name])
    for first_name, later_name in _usual_pairs(job):
        first, later = number[first_name], number[later_name]
        if not (earlier[first, later] or earlier[later, first]):
            settle(first, later)
    names = list(number)
    return {name: frozenset(names[first] for first in np.flatnonzero(earlier[:, number[name]])) for name in names}


def _usual_pairs(job: Job) -> Iterator[tuple[str, str]]:
    """Names of features of two stages, the earlier first."""
    for before, after in combinations(STAGES, 2):
        firsts, laters = ([each.name for kind in stage for each in getattr(job, kind)] for stage in (before, after))
        yield from product(firsts, laters)
