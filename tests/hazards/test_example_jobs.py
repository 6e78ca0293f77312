"""Notes a reviewer who knows the standards would raise on each example: all of them, and no others.

The lists follow from material, tools and cell of the job: what burns (NFPA 660), what a light metal
asks for besides (NFPA 480, DGUV 109-001), what its dust holds (29 CFR 1910.1000 and following), what
turns (29 CFR 1910.243, ISO 14119), what presses, what is carried.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from finishplan.hazards import review
from finishplan.planning.plan import Plan

EXAMPLES = Path(__file__).parents[2] / "examples"

ANY_CELL = {
    "dust-amount", "extraction-flow", "capture-reach", "duct-velocity", "rated-speed", "guard-opening",
    "guard-locking", "manual-speed", "noise-osha", "noise-niosh", "noise-eu", "lockout",
}  # fmt: skip
DOOR_WITH_LOCK = {"unlocking"}
BURNS = {"combustible-dust", "duct-dilution", "collector-sharing", "dust-layer"}
UNSTATED = ANY_CELL | {"guard-distance", "noise-eu-lower", "collector-protection"}
"""A door without a lock, a level estimated at 80 dB(A) or more, and a collector that may be a dry one."""

LIGHTS_EASILY = {"earthing"}
CONDUCTS = {"conductive-dust"}
LIGHT_METAL = {"collector-kind", "hydrogen", "extinguishing"} | BURNS | LIGHTS_EASILY | CONDUCTS
METAL_DUST = BURNS | CONDUCTS | {"dust-exposure"}
GROUND_METAL = METAL_DUST | {"sparks"}
FORCE_AXIS = {"force-loss"}
AIR = {"residual-force"}

RAISED = {
    "cast_cover": ANY_CELL | DOOR_WITH_LOCK | LIGHT_METAL | FORCE_AXIS | AIR
    | {"dust-exposure", "thrown-cutter", "changer-drop"},
    "steel_bracket": ANY_CELL | DOOR_WITH_LOCK | METAL_DUST | FORCE_AXIS | {"thrown-cutter"},
    "painted_panel": UNSTATED | BURNS | LIGHTS_EASILY | FORCE_AXIS | AIR
    | {"dust-exposure", "coating-content", "silica"},
    "stainless_cover": UNSTATED | GROUND_METAL | FORCE_AXIS | AIR
    | {"nickel", "chromium-hexavalent", "rim-speed", "changer-drop"},
    "hardwood_seat": UNSTATED | BURNS | LIGHTS_EASILY | FORCE_AXIS | AIR | {"wood-dust"},
    "gated_housing": UNSTATED | GROUND_METAL | FORCE_AXIS | AIR | {"rim-speed", "changer-drop"},
    # both change from a cutter to an abrasive on a force-controlled axis; the fender's is a wheel
    "chair_shell": UNSTATED | BURNS | LIGHTS_EASILY | FORCE_AXIS | {"wood-dust", "thrown-cutter", "changer-drop"},
    "gfrp_fender": UNSTATED | BURNS | LIGHTS_EASILY | FORCE_AXIS
    | {"dust-exposure", "glass-fibre", "silica", "thrown-cutter", "rim-speed", "changer-drop"},
    # saw and grit router on rigid spindles: nothing presses, a disc may jam
    "gfrp_panel": UNSTATED | BURNS | LIGHTS_EASILY
    | {"dust-exposure", "glass-fibre", "silica", "thrown-cutter", "jammed-disc", "changer-drop"},
    "carried_bracket": UNSTATED | GROUND_METAL | FORCE_AXIS | AIR
    | {"thrown-cutter", "dropped-part", "thrown-part", "hold-loss"},
}  # fmt: skip


def test_every_example_has_its_list() -> None:
    jobs = {path.stem for path in EXAMPLES.glob("*.toml") if "cell" not in path.stem}
    assert jobs == RAISED.keys()


@pytest.mark.parametrize("name", RAISED)
def test_what_a_reviewer_would_raise(name: str, example_plan: Callable[[str], Plan]) -> None:
    found = review(example_plan(f"{name}.toml"))
    assert {note.rule.id for note in found.notes} == RAISED[name]


def test_a_collector_shared_by_steel_and_aluminium_stops_both(example_plan: Callable[[str], Plan]) -> None:
    """NFPA 480:1998, 4-2.4.8: a collector of its own for the metal, nothing that sparks into it."""
    for name in ("cast_cover", "steel_bracket"):
        stops = {note.rule.id for note in review(example_plan(f"{name}.toml")).notes if note.level == "stop"}
        assert stops == {"collector-sharing"}
