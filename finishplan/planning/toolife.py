"""How long each tool lasts: contact time over Taylor life, in parts per tool."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finishplan import physics
from finishplan.planning.cycle import FeatureTime
from finishplan.planning.search import Found
from finishplan.units import MINUTE


@dataclass(frozen=True)
class ToolUse:
    """One tool's wear per part. `parts` and `life` are None where no life figure is on record."""

    tool: str
    features: tuple[str, ...]
    contact: float
    life: float | None
    parts: float | None
    source: str


def tool_use(works: Sequence[tuple[str, Found, FeatureTime]]) -> tuple[ToolUse, ...]:
    """Wear of every tool used on a part.

    Each feature uses up the share contact time/life of its tool; the tool lasts until the shares
    of the parts add up to one.
    """
    tools = dict.fromkeys(found.operation.setup.tool.name for _, found, _ in works)
    return tuple(_use(tool, [work for work in works if work[1].operation.setup.tool.name == tool]) for tool in tools)


def _use(tool: str, works: Sequence[tuple[str, Found, FeatureTime]]) -> ToolUse:
    contact = sum(time.contact for _, _, time in works)
    features = tuple(name for name, _, _ in works)
    setup = works[0][1].operation.setup
    window = setup.family.window(setup.workpiece.group)
    if window.taylor_c is None or window.taylor_n is None:
        return ToolUse(tool, features, contact, None, None, f"no life figure for {setup.workpiece.group}")
    lives = [
        float(
            physics.tool_life(
                found.evaluation.predictions["nominal"].surface_speed,
                window.taylor_c.value,
                window.taylor_n.value,
                reference_life=MINUTE,
            )
        )
        for _, found, _ in works
    ]
    share = sum(time.contact / life for (_, _, time), life in zip(works, lives, strict=True))
    return ToolUse(tool, features, contact, contact / share, 1 / share, window.taylor_c.path)
