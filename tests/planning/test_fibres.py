"""Where a path meets the fibres of a laminate at their worst."""

from __future__ import annotations

import numpy as np
import pytest

from finishplan.geometry import Chain
from finishplan.planning.fibres import at_worst, meeting_angle, worst_stretch
from finishplan.planning.outline import Outline


def outline(*corners: tuple[float, float], closed: bool) -> Outline:
    points = np.array([*corners, corners[0]] if closed else corners, dtype=float)
    length = float(np.hypot(*np.diff(points, axis=0).T).sum())
    return Outline((Chain(points, length, closed, smallest_radius=np.inf, sharp_corners=0),), drawn=True)


SQUARE = ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))


@pytest.mark.parametrize(
    ("fibre", "heading", "worst"),
    [(90, 0, True), (135, 0, True), (136, 0, False), (89, 0, False), (45, 0, False), (45, -45, True), (0, 60, True)],
)
def test_worst_from_a_right_angle_to_half_as_much_again(fibre: float, heading: float, worst: bool) -> None:
    """At right angles fibres are bent off, beyond it peeled up; along and below it they are cut.
    Common practice, no published source."""
    meeting = meeting_angle(np.radians(fibre), np.radians(np.array([heading])))
    assert at_worst(meeting).tolist() == [worst]


def test_the_sense_of_travel_does_not_matter() -> None:
    back_and_forth = np.radians(np.array([20.0, 200.0]))
    there, back = meeting_angle(np.radians(120), back_and_forth)
    assert there == pytest.approx(back)


def test_share_of_a_rectangle() -> None:
    """Fibres along y stand square to the two sides of length 2 of a rim of 6; the other sides lie along them."""
    found = worst_stretch(outline(*SQUARE, closed=True), np.pi / 2)
    assert found.share == pytest.approx(4 / 6)
    assert found.length == pytest.approx(2.0)
    assert found.middle in [pytest.approx((1.0, 0.0)), pytest.approx((1.0, 1.0))]


def test_a_piece_across_the_start_counts_as_one() -> None:
    moved = outline((1.5, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0), (0.0, 0.0), closed=True)
    found = worst_stretch(moved, np.pi / 2)
    assert found.share == pytest.approx(4 / 6)
    assert found.length == pytest.approx(2.0)


def test_an_open_path_ends_where_it_ends() -> None:
    """The two ends of an open path lie side by side and are two pieces all the same."""
    found = worst_stretch(outline((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), closed=False), np.pi / 2)
    assert found.length == pytest.approx(1.0)
    assert found.share == pytest.approx(2 / 3)


def test_none_at_worst() -> None:
    found = worst_stretch(outline((0.0, 0.0), (3.0, 0.0), closed=False), np.pi / 6)
    assert (found.share, found.length) == (0.0, 0.0)


def test_a_circle_is_at_worst_on_a_quarter() -> None:
    turn = np.linspace(0, 2 * np.pi, 1441)[:-1]
    ring = outline(*zip(np.cos(turn), np.sin(turn), strict=True), closed=True)
    assert worst_stretch(ring, 0.3).share == pytest.approx(0.25, abs=0.002)
