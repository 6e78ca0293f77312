"""Tool life against worked examples of textbooks.

Sources
-------
P. C. Sharma, A Textbook of Production Engineering, chapter 14; Kalpakjian and Schmid, Manufacturing
Engineering and Technology, chapter on tool life; Ghosh and Mallik, Manufacturing Science, chapter 4.
Origin of all: recomputed by a second party from the book's inputs; the printed figure was not seen.
"""

from __future__ import annotations

import pytest

from finishplan.physics import tool_life

MINUTE = 60.0
M_PER_MIN = 1 / 60


def test_life_at_a_higher_speed() -> None:
    """Sharma, example 14.1: 3 h at 18 m/min, exponent 0.125; at 24 m/min 18 min."""
    life = tool_life(24 * M_PER_MIN, 18 * M_PER_MIN, 0.125, reference_life=180 * MINUTE)
    # given in whole minutes
    assert life / MINUTE == pytest.approx(18, abs=0.5)


@pytest.mark.parametrize(
    "constant",
    [
        pytest.param(400.0, id="Sharma, example 14.15"),
        pytest.param(100.0, id="Kalpakjian and Schmid, example 20.2 of an older edition, any constant"),
    ],
)
def test_half_the_speed_at_an_exponent_of_one_half(constant: float) -> None:
    """Life rises by 300 %."""
    whole = tool_life(50 * M_PER_MIN, constant * M_PER_MIN, 0.5)
    half = tool_life(25 * M_PER_MIN, constant * M_PER_MIN, 0.5)
    assert 100 * (half / whole - 1) == pytest.approx(300, rel=1e-12)


def test_constant_of_the_extended_law() -> None:
    """Sharma, example 14.4: 30 m/min, 0.3 mm, 2.5 mm for 60 min; exponents 0.13, 0.77, 0.37; C 28.37."""
    for_one_minute = 28.37 / (0.3**0.77 * 2.5**0.37)
    # four digits of the constant are 2e-4, which the exponent multiplies by 1/0.13
    assert tool_life(30 * M_PER_MIN, for_one_minute * M_PER_MIN, 0.13, MINUTE) / MINUTE == pytest.approx(60, rel=2e-3)


@pytest.mark.parametrize(
    ("speed", "feed", "depth", "minutes"),
    [
        pytest.param(1.2, 1.0, 1.0, 14.76, id="speed"),
        pytest.param(1.0, 1.2, 1.0, 20.38, id="feed"),
        pytest.param(1.0, 1.0, 1.2, 35.71, id="depth"),
        pytest.param(1.2, 1.2, 1.2, 2.98, id="all"),
    ],
)
def test_a_fifth_more(speed: float, feed: float, depth: float, minutes: float) -> None:
    """Sharma, example 14.4, continued: life from 60 min when speed, feed or depth rise by 20 %."""
    constant = 30 / (feed**0.77 * depth**0.37)
    life = tool_life(30 * speed * M_PER_MIN, constant * M_PER_MIN, 0.13, reference_life=60 * MINUTE)
    # given with two decimals
    assert life / MINUTE == pytest.approx(minutes, abs=0.011)


@pytest.mark.parametrize(
    ("speed", "idle_minutes"),
    [
        pytest.param(27.42, 2 + 2.50 / 0.15, id="least cost"),
        pytest.param(47.92, 2.0, id="highest output"),
    ],
)
def test_economic_life(speed: float, idle_minutes: float) -> None:
    """Ghosh and Mallik, problems 4.26 and 4.28: C 75, n 0.25; 2 min and 2.50 $ a change at 0.15 $/min.

    The book's condition for the economic life is (1/n - 1) times the minutes a change costs.
    """
    economic = (1 / 0.25 - 1) * idle_minutes
    # four digits of the speed, taken to the fourth power
    assert tool_life(speed * M_PER_MIN, 75 * M_PER_MIN, 0.25, MINUTE) / MINUTE == pytest.approx(economic, rel=1e-3)
