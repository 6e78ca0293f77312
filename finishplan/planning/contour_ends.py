"""How the tool of a contour gets into the material and out of it again."""

from __future__ import annotations

from dataclasses import dataclass
from functools import singledispatch
from typing import Final

import numpy as np

from finishplan import physics
from finishplan.planning.contour_operation import ContourAbrasion, TrimmedContour
from finishplan.planning.outline import Outline
from finishplan.planning.search import Found
from finishplan.process.contour_engagement import Engagement, Milled, Sawn
from finishplan.process.contour_plunge import plunge_held

PLUNGES: Final = 200
"""Feeds of a plunge that are looked at."""

LONGEST_PLUNGE: Final = 60.0
"""Time that a plunge takes at most, however weak the spindle [s]."""


@dataclass(frozen=True)
class End:
    """One end of a run in one layer: over what length beside the path [m], and how fast [m/s]."""

    kind: str
    length: float
    feed: float

    @property
    def time(self) -> float:
        return self.length / self.feed


def trimming_of(found: Found) -> TrimmedContour:
    """The operation of a step on a contour."""
    assert isinstance(found.operation, TrimmedContour)
    return found.operation


def chord_of(disc: Sawn, operation: TrimmedContour) -> float:
    """Length of a disc at the face of the part, all the way in [m]."""
    return float(physics.disc_chord(operation.diameter, min(float(disc.depth), operation.diameter / 2)))


def entry_of(found: Found, outline: Outline) -> End:
    """How a run begins."""
    return _entry(trimming_of(found).conditions.engagement, found, outline)


def exit_of(found: Found, outline: Outline) -> End:
    """How a run ends."""
    return _exit(trimming_of(found).conditions.engagement, found, outline)


@singledispatch
def _entry(engagement: Engagement, found: Found, outline: Outline) -> End:
    raise TypeError(f"no entry known of {type(engagement).__name__}")


@_entry.register
def _(engagement: Milled, found: Found, outline: Outline) -> End:
    """Into every layer of a closed slot by a ramp, or a hole for grit; straight into an open one; else from beside."""
    operation, feed = trimming_of(found), float(found.settings["feed"])
    if not _closed(outline):
        return _from_beyond(operation, feed) if _in_a_slot(engagement, operation) else _beside(operation, feed)
    if not _in_a_slot(engagement, operation):
        return _beside(operation, feed)
    if isinstance(operation, ContourAbrasion):
        return End("drilled hole", 0.0, feed)
    angle = float(operation.ledger.assumed("path.ramp_angle", "ramp_angle", "angle"))
    return End("ramp", float(operation.conditions.contour.thickness) / found.passes / np.tan(angle), feed)


@_entry.register
def _(engagement: Sawn, found: Found, outline: Outline) -> End:
    """From beyond the edge of a part that is trimmed; straight down into one that is cut out of a sheet."""
    operation, feed = trimming_of(found), float(found.settings["feed"])
    if operation.desk.contour.stock is not None and not _closed(outline):
        return End("run in from the edge", 0.0, feed)
    slowest = float(engagement.depth) / LONGEST_PLUNGE
    feeds = np.geomspace(slowest, max(feed, slowest), PLUNGES)
    heaviest = found.evaluation.predictions["heaviest load"]
    held = plunge_held(
        operation.setup.corners["heaviest load"], engagement, float(found.settings["spindle_speed"]), feeds,
        float(heaviest.available_power), found.margin,
    )  # fmt: skip
    return End("plunge", float(engagement.depth) / found.passes, float(feeds[held].max(initial=slowest)))


@singledispatch
def _exit(engagement: Engagement, found: Found, outline: Outline) -> End:
    raise TypeError(f"no exit known of {type(engagement).__name__}")


@_exit.register
def _(engagement: Milled, found: Found, outline: Outline) -> End:
    """Straight on past an open end, up out of a closed slot, off any other path as it was entered from beside."""
    operation, feed = trimming_of(found), float(found.settings["feed"])
    if not _closed(outline):
        return _from_beyond(operation, feed)
    if _in_a_slot(engagement, operation):
        return End("lifted", float(operation.conditions.contour.thickness), feed)
    return _beside(operation, feed)


@_exit.register
def _(engagement: Sawn, found: Found, outline: Outline) -> End:
    """Up out of the kerf, which is free by then."""
    return End("lifted", float(engagement.depth), float(found.settings["feed"]))


def _beside(operation: TrimmedContour, feed: float) -> End:
    return End("quarter arc", np.pi / 4 * operation.diameter, feed)


def _from_beyond(operation: TrimmedContour, feed: float) -> End:
    return End("straight on", operation.diameter / 2, feed)


def _in_a_slot(engagement: Milled, operation: TrimmedContour) -> bool:
    return float(engagement.radial_depth) >= operation.diameter


def _closed(outline: Outline) -> bool:
    return any(chain.closed for chain in outline.chains)
