"""What is shown of the cost of a part, and of the same work by hand."""

from __future__ import annotations

import math
from collections.abc import Iterator

from finishplan.physics import noise
from finishplan.planning.costs import Item, PartCosts
from finishplan.report.figures import CostRow, CostRows, Figure

PAYBACK_COUNTS = (
    "the payback sets labour by hand against labour, wear and energy at the cell; the machine rate is left out, since "
    "it writes the investment off"
)
NO_PAYBACK = "no payback: labour, wear and energy at the cell cost as much as the labour by hand"
VIBRATION_TAKEN_OVER = (
    "action and limit value: Directive 2002/44/EC, Article 3, for the daily exposure A(8) of ISO 5349-1; the robot "
    "spares a worker these points in every shift; measure at the tool in use, local law and licensed practice decide"
)


def cost_rows(costs: PartCosts) -> CostRows:
    """Rows of the cost of a part; money is in the currency they name."""
    return CostRows(
        currency=costs.currency,
        items=tuple(_row(item, _amount(item, "money")) for item in costs.items),
        total=Figure("cost_per_part", "sum of these", costs.total, "money"),
        by_hand=tuple(_by_hand(costs)),
        figures=tuple(_figures(costs)),
        gaps=tuple((gap.name, gap.missing) for gap in costs.gaps),
        notes=tuple(_notes(costs)),
    )


def _amount(item: Item, kind: str) -> Figure:
    return Figure("amount", item.name, item.amount, kind)


def _row(item: Item, amount: Figure) -> CostRow:
    return CostRow(amount, item.equation, item.source, item.origins)


def _by_hand(costs: PartCosts) -> Iterator[CostRow]:
    if costs.by_hand is not None:
        yield _row(costs.by_hand, _amount(costs.by_hand, "money"))
    if costs.payback is not None and math.isfinite(costs.payback.amount):
        yield _row(costs.payback, _amount(costs.payback, "calendar time"))
    if costs.vibration is not None:
        daily, points = costs.vibration.daily, costs.vibration.points
        yield _row(daily, _amount(daily, "vibration"))
        yield _row(points, Figure("amount", points.name, round(points.amount)))


def _figures(costs: PartCosts) -> Iterator[Figure]:
    if costs.parts_per_year is not None:
        yield Figure("parts_per_year", "parts in a year", int(costs.parts_per_year))
    if costs.vibration is not None:
        yield Figure("exposure", "exposure by hand", costs.vibration.standing)
        yield Figure("action_value", "action value", noise.VIBRATION_ACTION_VALUE.value, "vibration")
        yield Figure("limit_value", "limit value", noise.VIBRATION_LIMIT_VALUE.value, "vibration")


def _notes(costs: PartCosts) -> Iterator[str]:
    if costs.payback is not None:
        yield PAYBACK_COUNTS if math.isfinite(costs.payback.amount) else NO_PAYBACK
    if costs.vibration is not None:
        yield VIBRATION_TAKEN_OVER
