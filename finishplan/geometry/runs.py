"""Runs of a raster: what is worked in one go, the order of the runs, and the paths they are joined to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from finishplan.geometry.linking import Border, Ways, length_of
from finishplan.geometry.piece import Points


@dataclass(frozen=True, eq=False)
class CellRun:
    """The lines of one cell, worked back and forth.

    Attributes
    ----------
    left, right : (m, 2) arrays
        Ends of the lines, in the order they lie side by side [m].
    """

    left: Points
    right: Points

    def entries(self, near: Points) -> Points:
        """The four places the run can begin at: either end of its first and of its last line."""
        return np.stack([self.left[0], self.right[0], self.left[-1], self.right[-1]])

    def strokes(self, entry: Points) -> list[Points]:
        """The lines in order and direction of travel, begun at one of the entries."""
        lines = np.stack([self.left, self.right], axis=1)
        number = int(np.argmin(np.hypot(*(self.entries(entry) - entry).T)))
        lines = lines[::-1] if number >= 2 else lines
        backwards = (np.arange(len(lines)) + number) % 2 == 1
        return list(np.where(backwards[:, None, None], lines[:, ::-1], lines))


@dataclass(frozen=True, eq=False)
class BorderRun:
    """A pass once around a border."""

    border: Border

    def entries(self, near: Points) -> Points:
        """The place on the border nearest to where the tool is."""
        return self.border.around(near)[:1]

    def strokes(self, entry: Points) -> list[Points]:
        """Once around from the entry."""
        return [self.border.around(entry)]


Run = CellRun | BorderRun


def in_order(runs: Sequence[Run], here: Points) -> Iterator[list[Points]]:
    """The strokes of every run, always going on to the run that begins nearest."""
    waiting = list(runs)
    while waiting:
        entries = [run.entries(here) for run in waiting]
        owner = np.repeat(np.arange(len(waiting)), [len(places) for places in entries])
        places = np.concatenate(entries)
        nearest = int(np.argmin(np.hypot(*(places - here).T)))
        strokes = waiting.pop(int(owner[nearest])).strokes(places[nearest])
        here = strokes[-1][-1]
        yield strokes


@dataclass(frozen=True, eq=False)
class Joined:
    """Strokes joined into paths, and how much of the paths are links [m]."""

    paths: tuple[Points, ...]
    link_length: float


def joined(runs: Sequence[list[Points]], ways: Ways, longest_link: float) -> Joined:
    """Join strokes in order; between runs a link longer than `longest_link` [m] becomes a lift."""
    strokes = [stroke for run in runs for stroke in run]
    begins_run = np.concatenate([np.arange(len(run)) == 0 for run in runs])
    links = _links(strokes, ways)
    lengths = np.array([length_of(link) for link in links])
    lifted = begins_run[1:] & (lengths > longest_link)
    pieces: list[list[Points]] = [[strokes[0]]]
    for stroke, link, lift in zip(strokes[1:], links, lifted, strict=True):
        if lift:
            pieces.append([stroke])
        else:
            pieces[-1] += [link[1:-1], stroke]
    return Joined(tuple(_path(parts) for parts in pieces), float(lengths[~lifted].sum()))


def _links(strokes: Sequence[Points], ways: Ways) -> list[Points]:
    """The way from the end of each stroke to the beginning of the next."""
    if len(strokes) == 1:
        return []
    starts = np.array([stroke[-1] for stroke in strokes[:-1]])
    ends = np.array([stroke[0] for stroke in strokes[1:]])
    return [
        np.stack([start, end]) if straight else ways.around(start, end)
        for start, end, straight in zip(starts, ends, ways.straight(starts, ends), strict=True)
    ]


def _path(parts: Sequence[Points]) -> Points:
    """Parts put together, without points that repeat the one before."""
    points = np.concatenate(parts)
    moved = np.concatenate([[True], np.any(np.diff(points, axis=0) != 0, axis=1)])
    path = np.asarray(points[moved])
    path.flags.writeable = False
    return path


def air_length(paths: Sequence[Points]) -> float:
    """Length of the straight moves from the end of each path to the start of the next [m]."""
    return float(sum(np.hypot(*(after[0] - before[-1])) for before, after in pairwise(paths)))
