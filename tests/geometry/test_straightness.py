"""Chains for a tool that cannot turn: straight runs, departure from a straight line, and ends carried on."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from finishplan.geometry.chain import Chain, join
from finishplan.geometry.piece import Piece, arc, straight
from finishplan.geometry.straightness import departure, lengthened, sharp_turns, straight_runs

SQUARE = [(0.0, 0.0), (0.01, 0.0), (0.01, 0.01), (0.0, 0.01)]


def polygon(corners: list[tuple[float, float]], *, closed: bool) -> list[Piece]:
    ends = corners[1:] + corners[:1] if closed else corners[1:]
    return [straight(start, end) for start, end in zip(corners, ends, strict=False)]


def only(pieces: list[Piece]) -> Chain:
    (chain,) = join(pieces).chains
    return chain


class TestStraightRuns:
    def test_a_square_falls_into_its_sides(self) -> None:
        chain = only(polygon(SQUARE, closed=True))
        runs = straight_runs(chain)
        assert [run.length for run in runs] == pytest.approx([0.01] * 4)
        assert not any(run.closed or run.sharp_corners for run in runs)
        assert all((one.points[-1] == other.points[0]).all() for one, other in pairwise(runs))
        assert (runs[-1].points[-1] == runs[0].points[0]).all()

    def test_an_open_bend_falls_in_two(self) -> None:
        chain = only(polygon(SQUARE[:3], closed=False))
        assert [run.points.shape for run in straight_runs(chain)] == [(2, 2), (2, 2)]

    def test_round_corners_hold_a_chain_together(self) -> None:
        pieces = [straight((0.0, 0.0), (0.05, 0.0)), arc((0.05, 0.02), 0.02, -math.pi / 2, math.pi / 2)]
        chain = only(pieces)
        assert straight_runs(chain) == (chain,)
        assert chain.smallest_radius == pytest.approx(0.02)

    def test_lengths_add_up_to_the_exact_one(self) -> None:
        half = arc((0.0, 0.0), 0.1, 0.0, math.pi)
        chain = only([half, straight((-0.1, 0.0), (0.1, 0.0))])
        runs = straight_runs(chain)
        assert len(runs) == 2
        assert sum(run.length for run in runs) == pytest.approx(chain.length, rel=1e-12)
        # the arc is drawn by chords, which come out a little short before they are stretched
        assert sorted(run.length for run in runs) == pytest.approx([0.2, 0.1 * math.pi], rel=1e-3)


def test_corners_turn_to_either_side() -> None:
    """An L drawn anticlockwise: five corners turn left, the inner one right. Joining may turn the way around."""
    corners = [(0.0, 0.0), (0.2, 0.0), (0.2, 0.1), (0.1, 0.1), (0.1, 0.2), (0.0, 0.2)]
    assert sorted(sharp_turns(only(polygon(corners, closed=True)))) == [1, 5]
    assert sharp_turns(only(polygon(corners[:3], closed=False))) in {(1, 0), (0, 1)}


class TestDeparture:
    def test_a_straight_chain_does_not_depart(self) -> None:
        assert departure(only([straight((0.0, 0.0), (1.0, 0.5))]), 0.04) == pytest.approx(0.0, abs=1e-12)

    @pytest.mark.parametrize("radius", [0.5, 2.0, 20.0])
    def test_of_an_arc_it_is_the_height_over_the_line(self, radius: float) -> None:
        chain, reach = only([arc((0.0, 0.0), radius, 0.0, 1.0)]), 0.04
        exact = radius * (1 - math.cos(reach / radius))
        # the arc is drawn by chords within 0.01 mm
        assert departure(chain, reach) == pytest.approx(exact, rel=0.01, abs=1e-5)

    def test_a_circle_of_straight_pieces_bends_like_the_circle(self) -> None:
        """A corner of five degrees is no sharp one, and still it bends."""
        angles = np.radians(np.arange(0, 360, 5))
        corners = [(0.1 * math.cos(angle), 0.1 * math.sin(angle)) for angle in angles]
        chain = only(polygon(corners, closed=True))
        assert straight_runs(chain) == (chain,)
        assert chain.smallest_radius == math.inf
        assert departure(chain, 0.04) == pytest.approx(0.1 * (1 - math.cos(0.4)), rel=0.02)

    def test_a_lone_kink_stands_off_the_line_between_its_sides(self) -> None:
        turn = math.radians(15)
        chain = only(
            polygon([(0.0, 0.0), (0.2, 0.0), (0.2 + 0.2 * math.cos(turn), 0.2 * math.sin(turn))], closed=False)
        )
        assert departure(chain, 0.04) == pytest.approx(0.04 * math.sin(turn / 2), rel=0.01)

    def test_a_chain_shorter_than_the_reach_is_looked_at_to_its_ends(self) -> None:
        assert departure(only([straight((0.0, 0.0), (0.01, 0.0))]), 0.04) == pytest.approx(0.0, abs=1e-12)


class TestLengthened:
    def test_both_ends_go_on_straight(self) -> None:
        chain = only(polygon([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0)], closed=False))
        longer = lengthened(chain, 0.1)
        assert longer.points[0] == pytest.approx([-0.1, 0.0])
        assert longer.points[-1] == pytest.approx([1.0, 1.1])
        assert longer.length == pytest.approx(2.2)

    def test_a_closed_chain_has_no_ends(self) -> None:
        chain = only(polygon(SQUARE, closed=True))
        assert lengthened(chain, 0.1) is chain
