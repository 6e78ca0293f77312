"""How long each tool lasts: contact time over Taylor life, in parts per tool."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from finishplan import physics
from finishplan.planning.edge_operation import EdgeCutting
from finishplan.planning.feature import Step
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


def tool_use(works: Sequence[tuple[str, Sequence[Step]]]) -> tuple[ToolUse, ...]:
    """Wear of every tool used on a part.

    Each feature uses up the share contact time/life of its tool; the tool lasts until the shares
    of the parts add up to one.
    """
    by_tool: dict[str, list[tuple[str, Step]]] = {}
    for name, steps in works:
        for step in steps:
            by_tool.setdefault(step.tool, []).append((name, step))
    return tuple(_use(tool, group) for tool, group in by_tool.items())


def _use(tool: str, works: Sequence[tuple[str, Step]]) -> ToolUse:
    contact = sum(step.time.contact for _, step in works)
    features = tuple(dict.fromkeys(name for name, _ in works))
    lives = [_life(step) for _, step in works]
    shares = [step.time.contact / life for (_, step), (life, _) in zip(works, lives, strict=True) if life is not None]
    source = lives[0][1]
    if len(shares) < len(works):
        return ToolUse(tool, features, contact, None, None, source)
    return ToolUse(tool, features, contact, contact / sum(shares), 1 / sum(shares), source)


def _life(step: Step) -> tuple[float | None, str]:
    """Life of the tool in contact at this step's settings [s], and where the figure is from."""
    operation = step.found.operation
    assert isinstance(operation, EdgeCutting)
    setup, nominal = operation.setup, step.found.evaluation.predictions["nominal"]
    window = setup.family.window(setup.workpiece.group)
    if window.life_length is not None:
        return window.life_length.value / float(step.found.settings["feed"]), window.life_length.path
    if window.taylor_c is None or window.taylor_n is None:
        return None, f"no life figure for {setup.workpiece.group}"
    life = physics.tool_life(nominal.surface_speed, window.taylor_c.value, window.taylor_n.value, reference_life=MINUTE)
    return float(life), window.taylor_c.path
