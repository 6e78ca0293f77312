"""What the dusts of the material tables are to a reviewer: how they burn, what sparks, what may not be mixed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from finishplan.physics.dust import DUST_FAMILIES, DustFamily

FAMILIES: Final[Mapping[str, DustFamily]] = {
    dust: DUST_FAMILIES[family]
    for dust, family in {
        "ferrous": "iron",
        "stainless-nickel": "iron",
        "light-metal": "aluminium",
        "magnesium": "magnesium",
        "titanium": "titanium",
        "zinc": "zinc",
        "plastic": "polymer",
        "glass-fibre": "glass-fibre composite",
        "carbon-fibre": "carbon-fibre composite",
        "wood": "wood",
    }.items()
}
"""Family of combustible dust by dust; stainless and nickel dust is taken for iron, copper alloys have none."""

SPARKING: Final = frozenset({"ferrous", "stainless-nickel", "titanium"})
"""Dusts of materials that give sparks when ground."""

LIGHT_METALS: Final = frozenset({"light-metal", "magnesium", "titanium"})

OF_COATING: Final[Mapping[str, str]] = {"hardwood": "wood"}
"""Dust of a coating by its group; every other coating is a plastic."""

SUBSTANCES: Final[Mapping[str, str]] = {
    "iron": "iron oxide",
    "magnesium": "magnesium oxide",
    "titanium": "titanium dioxide",
    "zinc": "zinc oxide",
    "silica": "crystalline silica",
    "glass_fibre": "glass fibre",
    "carbon_fibre": "graphite",
    "red_cedar": "western red cedar",
}
"""Names of constituents in the tables of exposure limits, where they differ."""

STAND_INS: Final = frozenset({"iron", "magnesium", "titanium", "zinc", "carbon_fibre"})
"""Constituents without a limit for their bare dust, held to that of a substance like them."""


def mixed_badly(one: str, other: str) -> bool:
    """Whether two dusts must not meet in a collector.

    Every light metal has a collector of its own; sparks of ferrous metals and titanium do not go to
    dust they may light.
    """
    if one == other:
        return False
    if LIGHT_METALS & {one, other}:
        return True
    sparks, burns = SPARKING & {one, other}, {one, other} & FAMILIES.keys() - SPARKING
    return bool(sparks and burns)
