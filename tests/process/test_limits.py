"""Utilisation of a limit, what it would need, the worst of several, and their excess and crowding."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from finishplan.process.limits import Limit, crowding, excess, highest_utilisation, most_used_first

INFINITY = float("inf")


def limit(value: Any, bound: Any, sense: Any = "at most", **more: Any) -> Limit:
    return Limit("name", value, bound, "force", sense, "mount.force_max", "a stronger device", **more)


@pytest.mark.parametrize(
    ("value", "bound", "sense", "share"),
    [
        (8.0, 10.0, "at most", 0.8),
        (12.0, 10.0, "at most", 1.2),
        (10.0, 8.0, "at least", 0.8),
        (8.0, 10.0, "at least", 1.25),
        (0.0, 10.0, "at most", 0.0),
        (0.0, 10.0, "at least", INFINITY),
        # nothing is allowed: nothing may be reached
        (0.0, 0.0, "at most", 0.0),
        (1.0, 0.0, "at most", INFINITY),
        # nothing is wanted: anything will do
        (0.0, 0.0, "at least", 0.0),
        (1.0, 0.0, "at least", 0.0),
        # unlimited
        (5.0, INFINITY, "at most", 0.0),
        (INFINITY, 5.0, "at least", 0.0),
        (INFINITY, 5.0, "at most", INFINITY),
        # without a bound nothing of it is used
        (INFINITY, INFINITY, "at most", 0.0),
    ],
)
def test_utilisation(value: float, bound: float, sense: str, share: float) -> None:
    assert limit(value, bound, sense).utilisation == share


@pytest.mark.parametrize(
    ("value", "sense", "bound", "share"),
    [
        (0.6, "at most", 0.75, 0.4),
        (1.0, "at most", 0.75, 2.0),
        (0.4, "at most", 0.75, 0.0),
        (0.4, "at least", 0.25, 0.4),
        (0.125, "at least", 0.25, 1.5),
        (0.6, "at least", 0.25, 0.0),
    ],
)
def test_utilisation_from_the_middle_of_a_window(value: float, sense: str, bound: float, share: float) -> None:
    assert limit(value, bound, sense, datum=0.5).utilisation == pytest.approx(share, abs=1e-15)


def test_a_window_without_width_is_kept_only_in_its_middle() -> None:
    assert list(limit(np.array([1.0, 1.1]), 1.0, datum=1.0).utilisation) == [0.0, INFINITY]


def test_utilisation_broadcasts_and_keeps_scalars() -> None:
    shares = limit(np.array([[1.0], [2.0]]), np.array([4.0, 5.0, 10.0])).utilisation
    assert shares.shape == (2, 3)
    assert shares[1, 2] == 0.2
    assert isinstance(limit(1.0, 2.0).utilisation, float)


@pytest.mark.parametrize("margin", [0.0, 0.2, 0.5])
@pytest.mark.parametrize(
    "given",
    [
        limit(12.0, 10.0),
        limit(8.0, 10.0, "at least"),
        limit(0.9, 0.8, datum=0.5),
        limit(0.3, 0.4, "at least", datum=0.5),
        limit(12.0, 10.0, keeps_margin=False),
        limit(8.0, 10.0, "at least", keeps_margin=False),
    ],
    ids=["at most", "at least", "window above", "window below", "exact at most", "exact at least"],
)
def test_the_needed_bound_just_keeps_the_margin(given: Limit, margin: float) -> None:
    granted = replace(given, bound=given.needed(margin))
    assert highest_utilisation([given], margin) > 1
    assert highest_utilisation([granted], margin) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize("margin", [0.0, 0.2, 0.5])
@pytest.mark.parametrize("sense", ["at most", "at least"])
def test_the_needed_value_just_keeps_the_margin(sense: str, margin: float) -> None:
    """Where the value is what equipment brings, it is the value that is asked for."""
    value = 12.0 if sense == "at most" else 8.0
    given = limit(value, 10.0, sense, asks_of="value")
    granted = replace(given, value=given.needed(margin))
    assert highest_utilisation([given], margin) > 1
    assert highest_utilisation([granted], margin) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize("margin", [0.0, 0.2, 0.5])
def test_a_value_that_shares_a_bound_with_others_is_counted_with_them(margin: float) -> None:
    """3 and 7 of others make 10 of the 9 allowed in all, and keep a margin of it together."""
    given = limit(3.0, 2.0, datum=-7.0, asks_of="value")
    assert given.utilisation == pytest.approx(10 / 9, rel=1e-12)
    assert given.needed(margin) == pytest.approx(max(9 * (1 - margin) - 7, 0.0), rel=1e-12)


@pytest.mark.parametrize(
    ("sense", "asks_of", "needed"),
    [
        ("at most", "bound", "at least"),
        ("at least", "bound", "at most"),
        ("at most", "value", "at most"),
        ("at least", "value", "at least"),
    ],
)
def test_more_of_a_bound_is_needed_where_less_of_a_value_is(sense: Any, asks_of: Any, needed: str) -> None:
    given = limit(12.0, 10.0, sense, asks_of=asks_of)
    assert given.needed_sense == needed


def test_a_needed_bound_below_the_middle_of_a_window_is_not_below_zero() -> None:
    assert limit(-0.4, 0.2, "at least", datum=0.5).needed(0.2) == 0.0


class TestExcess:
    def test_it_is_summed_over_the_broken_limits_alone(self) -> None:
        limits = [limit(np.array([12.0, 8.0]), 10.0), limit(15.0, 10.0), limit(1.0, 10.0)]
        assert excess(limits) == pytest.approx([0.2 + 0.5, 0.5], rel=1e-12)

    def test_the_margin_is_part_of_it(self) -> None:
        assert excess([limit(9.0, 10.0)], 0.2) == pytest.approx(0.9 / 0.8 - 1, rel=1e-12)
        assert excess([limit(9.0, 10.0, keeps_margin=False)], 0.2) == 0.0

    def test_relieving_one_of_two_counts_beside_a_hopeless_one(self) -> None:
        hopeless = limit(0.0, 10.0, "at least")
        assert excess([hopeless, limit(12.0, 10.0)]) > excess([hopeless, limit(11.0, 10.0)])
        assert np.isfinite(excess([hopeless]))


def test_crowding_is_small_with_room_everywhere() -> None:
    values = np.array([5.0, 0.0, 9.0])
    roomy, close = crowding([limit(values, 10.0), limit(4.0, 10.0)], 0.0, np.array([True, False, True]))
    assert roomy == pytest.approx(0.5**4 + 0.4**4, rel=1e-12)
    assert close == pytest.approx(0.9**4 + 0.4**4, rel=1e-12)
    # a broken limit is a matter of the excess: it crowds no more than one that is touched
    assert list(crowding([limit(np.array([30.0, 10.0]), 10.0)], 0.0, np.array([True, True]))) == [1.0, 1.0]


def test_the_worst_of_several_at_every_point() -> None:
    limits = [limit(np.array([1.0, 4.0]), 5.0), limit(np.array([3.0, 1.0]), 5.0), limit(2.0, 10.0)]
    assert list(highest_utilisation(limits)) == [0.6, 0.8]


def test_only_limits_that_keep_it_are_counted_with_the_margin() -> None:
    keeps, exact = limit(8.0, 10.0), limit(9.0, 10.0, keeps_margin=False)
    assert highest_utilisation([keeps], 0.2) == pytest.approx(1.0, rel=1e-15)
    assert highest_utilisation([exact], 0.2) == pytest.approx(0.9, rel=1e-15)
    assert highest_utilisation([keeps, exact], 0.2) == pytest.approx(1.0, rel=1e-15)
    assert highest_utilisation([keeps, exact], 0.0) == pytest.approx(0.9, rel=1e-15)


def test_the_most_used_limit_comes_first_and_noise_does_not_reorder_those_used_alike() -> None:
    given = [limit(0.2, 1.0), limit(0.7, 1.0), limit(0.7 * (1 + 1e-14), 1.0), limit(0.9, 1.0)]
    assert most_used_first(given) == [given[3], given[1], given[2], given[0]]
    assert most_used_first([limit(1.0, 1.0), limit(1.0, 0.0)])[0].bound == 0.0
