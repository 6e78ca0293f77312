"""How the tool of a contour gets into the material and out of it again."""

from __future__ import annotations

from dataclasses import dataclass
from functools import singledispatch

import numpy as np

from finishplan import physics
from finishplan.planning.contour_operation import ContourAbrasion, TrimmedContour
from finishplan.planning.outline import Outline
from finishplan.planning.search import Found
from finishplan.process.contour_engagement import Engagement, Milled, Sawn


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
    """Into every layer of a closed slot by a ramp, or a hole for grit; otherwise a quarter of an arc beside it."""
    operation, feed = trimming_of(found), float(found.settings["feed"])
    if not _in_a_closed_slot(engagement, operation, outline):
        return End("quarter arc", np.pi / 4 * operation.diameter, feed)
    if isinstance(operation, ContourAbrasion):
        return End("drilled hole", 0.0, feed)
    angle = float(operation.ledger.assumed("path.ramp_angle", "ramp_angle", "angle"))
    return End("ramp", float(operation.conditions.contour.thickness) / found.passes / np.tan(angle), feed)


@_entry.register
def _(engagement: Sawn, found: Found, outline: Outline) -> End:
    """Straight down, as much slower as the chord is longer than a layer is thick: the disc takes off no more."""
    operation = trimming_of(found)
    layer = float(operation.conditions.contour.thickness) / found.passes
    slower = layer / chord_of(engagement, operation)
    return End("plunge", float(engagement.depth) / found.passes, slower * float(found.settings["feed"]))


@singledispatch
def _exit(engagement: Engagement, found: Found, outline: Outline) -> End:
    raise TypeError(f"no exit known of {type(engagement).__name__}")


@_exit.register
def _(engagement: Milled, found: Found, outline: Outline) -> End:
    """Straight on past an open end, up out of a closed slot, off any other path as it was entered from beside."""
    operation, feed = trimming_of(found), float(found.settings["feed"])
    if _in_a_closed_slot(engagement, operation, outline):
        return End("lifted", float(operation.conditions.contour.thickness), feed)
    if any(chain.closed for chain in outline.chains):
        return End("quarter arc", np.pi / 4 * operation.diameter, feed)
    return End("straight on", operation.diameter / 2, feed)


@_exit.register
def _(engagement: Sawn, found: Found, outline: Outline) -> End:
    """Up out of the kerf, which is free by then."""
    return End("lifted", float(engagement.depth), float(found.settings["feed"]))


def _in_a_closed_slot(engagement: Milled, operation: TrimmedContour, outline: Outline) -> bool:
    full = float(engagement.radial_depth) >= operation.diameter
    return full and any(chain.closed for chain in outline.chains)
