"""Figures beside the one a note compares: what they follow from, and that none is left out."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from finishplan.hazards import RULES

BY_ID = {rule.id: rule for rule in RULES}


def test_distance_and_enclosure_lower_an_estimate(facts) -> None:
    """Three metres away and 12 dB of enclosure: both ends fall, the low one by 20 log10(3) more."""
    rule = BY_ID["noise-niosh"]
    beside = rule.find(facts("steel", "belt"))
    behind = rule.find(facts("steel", "belt", installed={"operator_distance": "3 m", "enclosure_attenuation": "12 dB"}))
    assert beside is not None
    assert behind is not None
    levels = [next(amount for amount in found.also if "operator's place" in amount.label) for found in (beside, behind)]
    assert levels[0].high - levels[1].high == pytest.approx(12)
    assert levels[0].value - levels[1].value == pytest.approx(12 + 20 * math.log10(3))


def test_the_caution_of_every_tool_is_told(facts) -> None:
    one = facts("steel", "belt", turning={"cautions": ("it whips", "it clogs")})
    other = facts("steel", "bonded", turning={"cautions": ("it bursts",)})
    found = BY_ID["rated-speed"].find(replace(one, works=(*one.works, *other.works)))
    assert found is not None
    told = {amount.label: amount.value for amount in found.also}
    assert told["about coated belt"] == "it whips; it clogs"
    assert told["about bonded wheel"] == "it bursts"


def test_a_part_caught_by_a_belt_goes_off_at_its_speed(facts) -> None:
    """Two kilograms at the rim of 0.12 m running free at 500 1/s: E = m v^2/2."""
    found = BY_ID["thrown-part"].find(facts("steel", "belt", part_carried=True, part_mass=2.0))
    assert found is not None
    assert found.compared.value == pytest.approx(2.0 * (math.pi * 0.12 * 500.0) ** 2 / 2)
