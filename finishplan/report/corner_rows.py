"""What is shown of the corners that slow a tool on an edge, and how to treat them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from finishplan import units
from finishplan.planning.corners import CornerEffect
from finishplan.report.figures import Figure

MOST_PLACES: Final = 3
"""Places named; the waypoints of the feature tell feed and section along the whole path."""


def corner_figures(corner: CornerEffect | None) -> Iterator[Figure]:
    """Figures of the slowest corner; the same names for every edge."""
    held, worst = (corner.held, corner.worst) if corner else (None, None)
    yield Figure("corner_count", "slow corners", len(corner.places) if corner else None)
    yield Figure("corner_feed", "slowest corner", worst.speed if worst else None, "feed")
    yield Figure("corner_section_ratio", "section there over nominal", worst.over_work if worst else None, "number")
    yield Figure("corner_edge_break", "edge break there", corner.leg if corner else None, "length")
    yield Figure("corner_force", "force to hold it there", held.force if held else None, "force")
    yield Figure("corner_edge_break_held", "edge break with it", held.leg if held else None, "length")


def corner_notes(corner: CornerEffect | None, system: units.System, *, drawn: bool) -> Iterator[str]:
    """Where corners slow the tool, and what each treatment brings."""
    if corner is None:
        return

    def shown(value: float, kind: str) -> str:
        return units.show(value, kind, system)

    if drawn:
        named = ", ".join(
            f"x {shown(place.x, 'length')}, y {shown(place.y, 'length')} ({place.over_work:.2f} times the section)"
            for place in corner.places[:MOST_PLACES]
        )
        count = len(corner.places)
        slow = "1 place of the path slows the tool" if count == 1 else f"{count} places of the path slow the tool"
        yield f"{slow}, {'the worst at' if count > MOST_PLACES else 'at'} {named}"
    if corner.held is not None:
        yield (
            f"slow corners: lower the force there to {shown(corner.held.force, 'force')}, which leaves a break of "
            f"{shown(corner.held.leg, 'length')} instead of {shown(corner.leg, 'length')}"
        )
    rounded = f"a path rounded to {shown(corner.radius, 'length')}"
    if corner.deviation is not None:
        rounded += f", which passes the corner at {shown(corner.deviation, 'length')} and leaves it unworked"
    acceleration = shown(corner.acceleration, "acceleration")
    yield f"the feed would be kept, and the nominal break with it, by {acceleration} across the path, or by {rounded}"
