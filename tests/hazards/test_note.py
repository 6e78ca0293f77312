"""Levels follow from figures: known or not, within the margin, in the band, beyond."""

from __future__ import annotations

import math

import pytest

from finishplan.hazards.dusts import mixed_badly
from finishplan.hazards.note import Comparison, Provision, level_of


def upper(value: float | None, bound: float | None, **band: float) -> Comparison:
    return Comparison("figure", value, bound, "length", "at most", **band)


@pytest.mark.parametrize(
    ("compared", "expected"),
    [
        (upper(None, 1.0), "check"),
        (upper(1.0, None), "check"),
        (upper(0.8, 1.0), "note"),
        (upper(0.81, 1.0), "check"),
        (upper(1.0, 1.0), "check"),
        (upper(1.01, 1.0), "stop"),
        (upper(1.5, 1.0, low=0.9, high=2.0), "check"),
        (upper(0.5, 1.0, low=0.1, high=0.9), "check"),
        (upper(1.5, 1.0, low=1.1, high=2.0), "stop"),
        (Comparison("figure", 1.25, 1.0, "length", "at least"), "note"),
        (Comparison("figure", 1.2, 1.0, "length", "at least"), "check"),
        (Comparison("figure", 0.99, 1.0, "length", "at least"), "stop"),
        (Comparison("figure", 0.0, 1.0, "length", "at least"), "stop"),
        (Comparison("figure", 0.0, 0.0, "length", "at most"), "note"),
        (Provision("thing", None, "yes", None), "check"),
        (Provision("thing", "yes", "yes", met=True), "note"),
        (Provision("thing", "no", "yes", met=False), "stop"),
    ],
)
def test_level_of_a_figure(compared: Comparison | Provision, expected: str) -> None:
    assert level_of("stop", compared, margin=0.2) == expected


def test_levels_in_decibels_compare_by_energy() -> None:
    """Three decibels more are twice the energy (10 log10 2 = 3.0103)."""
    louder = Comparison("level", 88.0103, 85.0, "sound level", "at most")
    assert louder.utilisation == pytest.approx(2, rel=1e-5)


def test_nothing_at_all_of_what_is_wanted_is_beyond_any_share() -> None:
    assert Comparison("flow", 0.0, 1.0, "air flow", "at least").utilisation == math.inf


@pytest.mark.parametrize(
    ("one", "other", "badly"),
    [
        ("light-metal", "ferrous", True),
        ("light-metal", "magnesium", True),
        ("light-metal", "light-metal", False),
        ("wood", "ferrous", True),
        ("wood", "plastic", False),
        ("ferrous", "stainless-nickel", False),
        ("ferrous", "copper-alloy", False),
        ("titanium", "copper-alloy", True),
    ],
)
def test_dusts_that_must_not_meet(one: str, other: str, badly: bool) -> None:
    assert mixed_badly(one, other) is badly
    assert mixed_badly(other, one) is badly
