"""Joining loose pieces into open and closed chains."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishplan.geometry.chain import Joined, join
from finishplan.geometry.piece import Piece, Points, arc, bulged, straight

SQUARE = [(0.0, 0.0), (0.01, 0.0), (0.01, 0.01), (0.0, 0.01)]


def polygon(corners: list[tuple[float, float]], *, closed: bool) -> list[Piece]:
    ends = corners[1:] + corners[:1] if closed else corners[1:]
    return [straight(start, end) for start, end in zip(corners, ends, strict=False)]


def only(joined: Joined) -> tuple[float, bool, float, int]:
    (chain,) = joined.chains
    return chain.length, chain.closed, chain.smallest_radius, chain.sharp_corners


def test_nothing_joins_to_nothing() -> None:
    assert join([]) == Joined((), 0)


def test_a_square_of_loose_lines_closes() -> None:
    top, right, bottom, left = polygon(SQUARE, closed=True)
    joined = join([left, straight((0.01, 0.01), (0.01, 0.0)), top, bottom])
    assert only(joined) == (pytest.approx(0.04), True, math.inf, 4)
    assert joined.chains[0].points.shape == (5, 2)
    assert (joined.chains[0].points[0] == joined.chains[0].points[-1]).all()
    assert right.length == pytest.approx(0.01)


def test_points_follow_the_run_whatever_way_its_pieces_were_drawn() -> None:
    lines = [straight((0.02, 0.0), (0.01, 0.0)), straight((0.0, 0.0), (0.01, 0.0)), straight((0.02, 0.0), (0.03, 0.0))]
    (chain,) = join(lines).chains
    travelled = chain.points[:, 0]
    assert sorted(travelled) == pytest.approx([0.0, 0.01, 0.02, 0.03])
    assert abs(np.diff(travelled).sum()) == pytest.approx(0.03)
    assert not chain.closed


def test_a_slot_of_lines_and_arcs_is_smooth_all_around() -> None:
    slot = [
        straight((0.0, 0.0), (0.03, 0.0)),
        arc((0.03, 0.005), 0.005, -math.pi / 2, math.pi),
        straight((0.0, 0.01), (0.03, 0.01)),
        arc((0.0, 0.005), 0.005, math.pi / 2, math.pi),
    ]
    assert only(join(slot)) == (pytest.approx(0.06 + math.pi * 0.01, rel=1e-14), True, 0.005, 0)


@pytest.mark.parametrize(("turn", "sharp"), [(19.9, 0), (20.1, 1), (-20.1, 1), (179.0, 1)])
def test_a_corner_is_sharp_above_twenty_degrees(turn: float, sharp: int) -> None:
    heading = math.radians(turn)
    onward = (0.01 + 0.01 * math.cos(heading), 0.01 * math.sin(heading))
    assert only(join(polygon([(0.0, 0.0), (0.01, 0.0), onward], closed=False)))[3] == sharp


def test_the_turn_at_a_vertex_is_that_of_the_true_tangents() -> None:
    """A line tangent to a tiny arc: the arc's first chord turns by 5 degrees, the edge does not."""
    pieces = [straight((-0.01, 0.0), (0.0, 0.0)), bulged((0.0, 0.0), (1e-4, 1e-4), math.tan(math.pi / 8))]
    assert only(join(pieces))[2:] == (pytest.approx(1e-4), 0)


@pytest.mark.parametrize(("gap", "chains"), [(4.9e-5, 1), (5.1e-5, 2)])
def test_a_gap_is_bridged_up_to_the_tolerance(gap: float, chains: int) -> None:
    joined = join([straight((0.0, 0.0), (0.01, 0.0)), straight((0.01 + gap, 0.0), (0.02, 0.0))])
    assert len(joined.chains) == chains
    assert sum(chain.length for chain in joined.chains) == pytest.approx(0.02 - gap, rel=1e-12)


def test_the_gap_tolerance_can_be_set() -> None:
    lines = [straight((0.0, 0.0), (0.01, 0.0)), straight((0.0102, 0.0), (0.02, 0.0))]
    assert [len(join(lines, gap).chains) for gap in (1e-4, 3e-4)] == [2, 1]


def test_a_run_that_almost_meets_itself_closes() -> None:
    joined = join([*polygon([*SQUARE, (0.0, 3e-5)], closed=False)])
    assert only(joined) == (pytest.approx(0.04 - 3e-5), True, math.inf, 4)
    assert (joined.chains[0].points[-1] == joined.chains[0].points[0]).all()


def test_a_run_of_segments_far_shorter_than_the_gap_stays_one_run() -> None:
    """A spline exported as lines of 0.005 mm must not fall together into a knot of ends."""
    steps = [(0.005e-3 * index, 0.0) for index in range(2001)]
    assert only(join(polygon(steps, closed=False))) == (pytest.approx(0.01), False, math.inf, 0)


def test_a_lone_scrap_shorter_than_the_gap_does_not_close_on_itself() -> None:
    assert only(join([straight((0.0, 0.0), (2e-5, 0.0))]))[1] is False


def test_three_ends_meeting_split_the_chains() -> None:
    star = [straight((0.0, 0.0), (0.01 * math.cos(a), 0.01 * math.sin(a))) for a in (0.0, 2.0, 4.0)]
    tail = straight(tuple(star[0].points[1]), (0.05, 0.0))
    joined = join([*star, tail])
    assert sorted(chain.length for chain in joined.chains) == pytest.approx([0.01, 0.01, 0.05])
    assert not any(chain.closed for chain in joined.chains)


def test_ends_meeting_across_gaps_split_the_chains_too() -> None:
    star = [straight((1e-5 * math.cos(a), 1e-5 * math.sin(a)), (math.cos(a), math.sin(a))) for a in (0.0, 2.0, 4.0)]
    assert len(join(star).chains) == 3


def test_a_loop_with_a_tail_is_a_closed_chain_and_an_open_one() -> None:
    joined = join([*polygon(SQUARE, closed=True), straight((0.0, 0.0), (-0.01, 0.0))])
    assert sorted((chain.closed, round(chain.length, 9)) for chain in joined.chains) == [(False, 0.01), (True, 0.04)]


def test_a_circle_is_its_own_chain_even_where_lines_touch_its_start() -> None:
    circle = arc((0.0, 0.0), 0.01, 0.0, 2 * math.pi)
    joined = join([circle, straight((0.01, 0.0), (0.02, 0.0)), straight((0.01, 0.0), (0.02, 0.01))])
    assert sorted(chain.closed for chain in joined.chains) == [False, True]
    assert next(chain for chain in joined.chains if chain.closed).sharp_corners == 0


def test_doubles_are_dropped_in_either_direction_and_counted() -> None:
    quarter = bulged((0.01, 0.0), (0.0, 0.01), math.tan(math.pi / 8))
    back = bulged((0.0, 0.01), (0.01, 0.0), -math.tan(math.pi / 8))
    line, line_back = straight((0.0, 0.0), (0.01, 0.0)), straight((0.01, 0.0), (0.0, 0.0))
    joined = join([quarter, line, back, line_back, line, arc((0.0, 0.0), 0.01, 0.0, math.pi / 2)])
    assert joined.duplicates_dropped == 4
    assert only(joined)[0] == pytest.approx(0.01 + 0.005 * math.pi)


@pytest.mark.parametrize("shift", [0.0, 3e-8, 9e-8])
def test_doubles_may_differ_by_less_than_a_ten_thousandth_of_a_millimetre(shift: float) -> None:
    lines = [straight((0.0, y), (0.01, y)) for y in (0.0, shift)]
    assert join(lines).duplicates_dropped == 1
    assert join([*lines, straight((0.0, 5e-7), (0.01, 5e-7))]).duplicates_dropped == 1


@pytest.mark.parametrize("start", np.linspace(0, math.pi, 13))
def test_an_arc_and_a_bulge_over_the_same_small_quarter_are_doubles(start: float) -> None:
    by_centre = arc((0.0, 0.0), 1e-3, start, math.pi / 2)
    ends = [(1e-3 * math.cos(angle), 1e-3 * math.sin(angle)) for angle in (start, start + math.pi / 2)]
    assert join([by_centre, bulged(*ends, math.tan(math.pi / 8))]).duplicates_dropped == 1


def test_different_edges_between_the_same_ends_are_no_doubles() -> None:
    up, down = (bulged((0.0, 0.0), (0.01, 0.0), bulge) for bulge in (0.5, -0.5))
    joined = join([up, down, straight((0.02, 0.0), (0.03, 0.01)), straight((0.02, 0.01), (0.03, 0.0))])
    assert joined.duplicates_dropped == 0
    assert sorted(chain.closed for chain in joined.chains) == [False, False, True]


def test_points_of_a_chain_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="read-only"):
        join([straight((0.0, 0.0), (0.01, 0.0))]).chains[0].points[0, 0] = 1.0


def test_twenty_thousand_pieces_join() -> None:
    angles = np.linspace(0, 2 * math.pi, 20_001)
    ring = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    pieces = [straight(start, end) for start, end in pairwise(ring)]
    order = np.random.default_rng(7).permutation(len(pieces))
    length, closed, _, corners = only(join([pieces[index] for index in order]))
    assert (length, closed, corners) == (pytest.approx(40_000 * math.sin(math.pi / 20_000)), True, 0)


@pytest.mark.parametrize("heap", ["one line drawn over and over", "lines from one point"])
def test_a_heap_of_coinciding_ends_joins(heap: str) -> None:
    spread = 0.0 if heap.startswith("one") else 1e-3
    pieces = [straight((0.0, 0.0), (1.0, spread * index)) for index in range(5000)]
    joined = join(pieces)
    assert len(joined.chains) + joined.duplicates_dropped == 5000


def moved(piece: Piece, turn: float, shift: Points, *, backwards: bool) -> Piece:
    """The piece rotated and shifted as a whole, and drawn from its other end if asked."""
    rotation = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    points = piece.points @ rotation + shift
    start, end = piece.start_direction @ rotation, piece.end_direction @ rotation
    if backwards:
        points, start, end = points[::-1], -end, -start
    return Piece(points, piece.length, piece.smallest_radius, start, end)


def summary(pieces: list[Piece]) -> list[tuple[bool, int, float, float]]:
    chains = join(pieces).chains
    return sorted(
        (chain.closed, chain.sharp_corners, round(chain.length, 9), round(min(chain.smallest_radius, 1e3), 9))
        for chain in chains
    )


@given(
    data=st.data(),
    corners=st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=2, max_size=25, unique=True),
    turn=st.floats(-math.pi, math.pi),
    shift=st.tuples(st.floats(-1, 1), st.floats(-1, 1)),
)
def test_chains_do_not_depend_on_place_order_or_direction(
    data: st.DataObject, corners: list[tuple[int, int]], turn: float, shift: tuple[float, float]
) -> None:
    """Runs through grid points 1 mm apart with straight and bulged segments, some taken away."""
    segments = [
        bulged(np.array(start) * 1e-3, np.array(end) * 1e-3, bulge)
        for start, end in zip(corners, corners[1:] + corners[:1], strict=True)
        if (bulge := data.draw(st.sampled_from([None, 0.0, 0.0, 0.41, -1.0]))) is not None
    ]
    order = data.draw(st.permutations(range(len(segments))))
    elsewhere = [moved(segments[index], turn, np.array(shift), backwards=data.draw(st.booleans())) for index in order]
    assert summary(elsewhere) == [
        (closed, corners, pytest.approx(length, abs=2e-9), pytest.approx(radius, abs=2e-9))
        for closed, corners, length, radius in summary(segments)
    ]
    assert sum(chain.length for chain in join(elsewhere).chains) == pytest.approx(
        sum(chain.length for chain in join(segments).chains), rel=1e-12, abs=1e-15
    )
