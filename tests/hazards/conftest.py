"""Facts of a small cell, with whatever a test wants different."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from finishplan.hazards.context import Context, Device, TurningTool, Work
from finishplan.hazards.dusts import FAMILIES
from finishplan.job import Installed

Facts = Callable[..., Context]

TOOLS: Mapping[str, dict[str, Any]] = {
    "burr": {"kind": "cutter", "family": "carbide burr double cut", "diameter": 0.01, "overhang": 0.03},
    "belt": {"kind": "belt", "family": "coated belt", "diameter": 0.12, "width": 4 * 0.0254},
    "orbital": {"kind": "orbital", "family": "orbital disc", "diameter": 0.15},
    "saw": {"kind": "saw blade", "family": "carbide-tipped saw blade", "diameter": 0.16, "width": 0.0024},
    "bonded": {"kind": "wheel", "family": "bonded wheel", "diameter": 0.2, "width": 0.025},
}
MATERIALS: Mapping[str, dict[str, Any]] = {
    "aluminium": {"group": "aluminium", "dust": "light-metal", "density": 2700.0},
    "steel": {"group": "steel-unalloyed", "dust": "ferrous", "density": 7800.0},
    "stainless": {"group": "stainless", "dust": "stainless-nickel", "density": 7900.0},
    "brass": {"group": "brass", "dust": "copper-alloy", "density": 8500.0},
    "oak": {"group": "hardwood", "dust": "wood", "density": 700.0},
    "polymer": {"group": "thermoplastic", "dust": "plastic", "density": 1200.0},
    "glass": {"group": "gfrp", "dust": "glass-fibre", "density": 1900.0},
    "carbon": {"group": "cfrp", "dust": "carbon-fibre", "density": 1550.0},
    "primer": {"group": "primer", "dust": "plastic", "density": 1500.0, "coating": "primer"},
}
COMPOSITIONS: Mapping[str, Mapping[str, float]] = {
    "aluminium": {"aluminium": 0.92},
    "steel-unalloyed": {"iron": 0.98},
    "stainless": {"chromium": 0.18, "nickel": 0.08},
    "brass": {"copper": 0.58, "lead": 0.03},
    "hardwood": {"hardwood": 1.0},
    "thermoplastic": {},
    "gfrp": {"glass_fibre": 0.6},
    "cfrp": {"carbon_fibre": 0.65},
    "primer": {},
}
AXIS = Device("axis", "force-controlled", 120.0, 0.02, pneumatic=False)
HEAD = Device("head", "radial", 30.0, 0.014, pneumatic=True)


def facts_of(
    material: str = "aluminium",
    tool: str = "burr",
    *,
    installed: Mapping[str, Any] | None = None,
    turning: Mapping[str, Any] | None = None,
    work: Mapping[str, Any] | None = None,
    content: Mapping[str, float] | None = None,
    **others: Any,
) -> Context:
    """A cell that takes one cubic centimetre off a part in ten seconds, a part every thirty, ten of which change it."""
    speeds = {"free_rotation": 500.0, "planned_rotation": 400.0, "rated_rotation": 650.0}
    one = TurningTool(**{"name": tool, "width": None, "overhang": None, **TOOLS[tool], **speeds, **(turning or {})})
    done = {
        "feature": "rim", "process": "edge cutting", "tool": one, "coating": None, "volume": 1e-6, "most_volume": 1e-6,
        "abrasive_share": 0.0, "contact": 10.0, "power": 300.0, "force": 12.0, "feed": 0.05, "device": None,
        **MATERIALS[material], **(work or {}),
    }  # fmt: skip
    compositions = dict(COMPOSITIONS)
    if content is not None:
        compositions[done["group"]] = content
    cell = {
        "title": "job", "cell": "cell", "material": material, "group": done["group"],
        "works": (Work(**done),), "cycle": 20.0,
        "tool_changes": 0, "tools_per_part": 0.01, "shift": 8 * 3600.0, "parts_per_shift": 960.0,
        "most_parts_per_shift": 1440.0, "robot": "articulated", "top_speed": 1.0,
        "air_speed": 0.5, "carried_mass": 8.0, "part_carried": False, "part_mass": None, "holding": None, "margin": 0.2,
        "installed": Installed(**(installed or {})),
        "compositions": compositions, "certified": content is not None, "coating_content": None,
        "families": FAMILIES, "assumed_shift": True, "cell_file": "cell.toml", **others,
    }  # fmt: skip
    return Context(**cell)


@pytest.fixture
def facts() -> Facts:
    """Builder of facts."""
    return facts_of
