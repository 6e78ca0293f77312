"""The least equipment as a quotation asks for it: what the limits need, and the air that the hazard notes ask for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from finishplan.hazards import Comparison
from finishplan.hazards.context import Context
from finishplan.hazards.extraction_rules import extraction_flow
from finishplan.planning.plan import Plan
from finishplan.planning.requirements import PATH_ACCURACY, ROBOT_STIFFNESS, Requirement
from finishplan.report.figures import STRICTLY, Figure

UNPLACED: Final = " (more if the hood stands off)"
"""Told where nobody has stated how far from the tool the hood is."""

NONE: Final = "none would do"
"""Told in place of the sense where no equipment leaves enough; then there is no figure."""

PERFECT: Final[Mapping[str, str]] = {
    PATH_ACCURACY: "even with no path error",
    ROBOT_STIFFNESS: "even with an arm that does not yield",
}
"""The best robot there could be, by what is asked of it."""


def requirement_rows(plan: Plan, facts: Context) -> Iterator[tuple[Figure, ...]]:
    """Rows of the least equipment, margin included."""
    for row in plan.requirements:
        sense, needed = (row.sense, row.needed) if row.attainable else (NONE, None)
        yield _row(row.name, sense, needed, row.available, row.kind, _setting(row))
    yield from _air(facts)


def _setting(row: Requirement) -> str:
    """The feature that sets a requirement, with the limit where it is another; what no robot mends, with the reason."""
    limit = row.limit
    if not row.attainable and row.name in PERFECT:
        limit = f"{limit or 'the other errors'}, {PERFECT[row.name]}"
    return row.feature if limit is None else f"{row.feature}: {limit}"


def _air(facts: Context) -> Iterator[tuple[Figure, ...]]:
    """The largest flow that the hazard notes know of, with the margin that they keep to it."""
    finding = extraction_flow(facts)
    if finding is None or not isinstance(finding.compared, Comparison) or finding.compared.bound is None:
        return
    flow, reason = finding.compared, finding.also[0].label
    setting = f"{'; '.join(finding.where)}: {reason}" if finding.where else reason
    if facts.installed.capture_distance is None and facts.installed.booth_opening is None:
        setting += UNPLACED
    needed = finding.compared.bound / (1 - facts.margin)
    yield _row("air drawn from the cell", "at least", needed, flow.value, "air flow", setting)


def _row(
    name: str, sense: str, needed: float | None, available: float | None, kind: str, setting: str
) -> tuple[Figure, ...]:
    return (
        Figure("requirement", "requirement", name),
        Figure("sense", "sense", sense),
        Figure("needed", "needed", needed, kind, STRICTLY.get(sense, "nearest")),
        Figure("available", "in the cell", available, kind),
        Figure("set_by", "set by", setting),
    )
