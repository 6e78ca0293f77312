"""Refining a surface with a product without graded grain: wire brush or buff.

It takes no depth worth counting off. The roughness falls by a ratio its family is known for, at a feed
that is set from practice, and its life is a time of contact.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from finishplan.formula import Array, formula
from finishplan.process.limits import Limit
from finishplan.process.surface_abrasion import Action, action
from finishplan.process.surface_conditions import Product, SurfaceSetting, SurfaceState
from finishplan.process.surface_limits import product_limits


@dataclass(frozen=True, eq=False)
class Refiner(Product):
    """A product that refines: roughness Ra after over before, highest usual feed, and life in contact."""

    refinement: Array
    feed_high: Array
    life: Array


@dataclass(frozen=True, eq=False)
class RefiningSetting(SurfaceSetting):
    """What the programmer sets where no depth tells the feed."""

    feed: Array


@formula(
    "Ra = q Ra_0",
    units={"before": "m", "refinement": "1"},
    returns="m",
    source="definition of the refinement of a product: roughness after over before",
)
def refined_roughness(before: Array, refinement: Array) -> Array:
    """Mean roughness after refining.

    Parameters
    ----------
    before : array_like
        Mean roughness before Ra_0 [m].
    refinement : array_like
        Ratio q of the family, below 1 [1].

    Returns
    -------
    array_like
        Mean roughness Ra [m].
    """
    return refinement * before


@formula("h = 0", units={}, returns="m", source="what refining takes off is small against the roughness")
def refined_depth() -> Array:
    """Mean depth that refining takes off.

    Returns
    -------
    array_like
        Zero [m].
    """
    return np.float64(0.0)


@action.register
def _(product: Refiner, surface: SurfaceState, setting: RefiningSetting, force: Array, speed: Array) -> Action:
    return Action(setting.feed, refined_depth(), refined_roughness(surface.initial_roughness, product.refinement))


@product_limits.register
def _(product: Refiner, feed: Array) -> Iterator[Limit]:
    yield Limit(
        "usual feed of refining", feed, product.feed_high, "feed", "at most",
        "abrasive.feed_high", "a trial that shows the finish at a faster feed", keeps_margin=False,
    )  # fmt: skip
