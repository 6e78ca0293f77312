"""Amount of dust, explosion classes and layers, exposure limits and what governs a material."""

from __future__ import annotations

import re

import numpy as np
import pytest

from finishplan.physics.dust import (
    DUST_CLASSES,
    DUST_FAMILIES,
    EXPOSURE_LIMITS,
    MILLIGRAM,
    REPORTED_LAYER,
    WATER_REACTIONS,
    airborne_concentration,
    constituent_dust_limit,
    deflagration_index,
    duct_concentration,
    dust_family,
    dust_mass_rate,
    explosion_severity,
    exposure_limits,
    governing_limit,
    hydrogen_volume,
    ignition_sensitivity,
    layer_criterion,
    layer_trigger_area,
    lead_limit,
    mixture_index,
    st_class,
    time_weighted_concentration,
)
from finishplan.physics.ventilation import dilution_flow

BAR = 1e5
HOUR = 3600.0


class TestAmount:
    def test_mass_rate_with_what_the_abrasive_loses(self) -> None:
        assert dust_mass_rate(1e-6, 2700.0, 0.1) == pytest.approx(2.97e-3, rel=1e-14)

    def test_duct_at_the_dilution_flow_holds_a_quarter(self) -> None:
        rate = np.array([1e-4, 1e-3])
        assert duct_concentration(rate, dilution_flow(rate, 0.06)) == pytest.approx([0.015, 0.015], rel=1e-14)

    def test_full_capture_leaves_the_room_clean(self) -> None:
        assert airborne_concentration(1e-6, 1.0, 0.5) == 0
        assert airborne_concentration(1e-6, 0.9, 0.5) == pytest.approx(2e-7, rel=1e-12)

    def test_refuses_more_than_full_capture(self) -> None:
        with pytest.raises(ValueError, match="capture must be between 0 and 1"):
            airborne_concentration(1e-6, 1.1, 0.5)

    def test_hydrogen_of_one_mole_of_a_divalent_metal_is_one_mole(self) -> None:
        assert hydrogen_volume(0.024305, 0.024305, 2) == pytest.approx(8.314462618 * 273.15 / 101325, rel=1e-14)

    def test_every_hydrogen_family_has_its_reaction_or_is_heavy(self) -> None:
        named = {name for name, family in DUST_FAMILIES.items() if family.hydrogen}
        assert set(WATER_REACTIONS) <= named


class TestExplosion:
    @pytest.mark.parametrize(
        ("kst", "expected"),
        [(0, "St 0"), (0.1, "St 1"), (200, "St 1"), (200.1, "St 2"), (300, "St 2"), (300.1, "St 3"), (5000, "St 3")],
    )
    def test_an_edge_belongs_to_the_lower_class(self, kst: float, expected: str) -> None:
        assert st_class(kst * BAR) == expected

    def test_refuses_negative_and_missing_kst(self) -> None:
        for kst in (-1.0, float("nan")):
            with pytest.raises(ValueError, match="st_class: deflagration_index"):
                st_class(kst)

    def test_classes_rise(self) -> None:
        assert [each.up_to for each in DUST_CLASSES] == sorted(each.up_to for each in DUST_CLASSES)

    def test_cube_root_law(self) -> None:
        # a cubic metre needs no correction; a vessel of 20 litres rises 3.68 times as fast
        assert deflagration_index(150 * BAR, 1.0) == pytest.approx(150 * BAR, rel=1e-14)
        assert deflagration_index(150 * BAR / 0.02 ** (1 / 3), 0.02) == pytest.approx(150 * BAR, rel=1e-14)

    def test_layer_weighs_the_same_whatever_the_density(self) -> None:
        density = np.array([320.0, 600.0, 1200.0])
        assert layer_criterion(density) * density == pytest.approx([0.96] * 3, rel=1e-14)

    def test_area_is_a_share_until_the_cap(self) -> None:
        assert layer_trigger_area(np.array([100.0, 1e4])) == pytest.approx([5.0, 92.90304], rel=1e-12)

    def test_indices_of_coal_against_itself_are_one(self) -> None:
        assert ignition_sensitivity(853.15, 0.14, 0.043) == pytest.approx(1, rel=1e-14)
        assert explosion_severity(7.1 * BAR, 530 * BAR) == pytest.approx(1, rel=1e-14)

    def test_ignition_sensitivity_of_a_laminate_dust(self) -> None:
        # (580 140 43)/(460 2.1 59)
        assert ignition_sensitivity(733.15, 2.1e-3, 0.059) == pytest.approx(61.26, rel=1e-4)

    def test_stricter_layer_governs(self) -> None:
        assert REPORTED_LAYER.governing.value == 0.4e-3
        assert REPORTED_LAYER.disagree


class TestFamilies:
    @pytest.mark.parametrize("name", DUST_FAMILIES)
    def test_bands_span_their_samples(self, name: str) -> None:
        family = dust_family(name)
        assert family.samples
        for sample in family.samples:
            assert len(sample.source) > 10
            for quantity in ("deflagration_index", "explosible_concentration", "ignition_energy", "cloud_temperature"):
                if (given := getattr(sample, quantity)) is not None:
                    low, high = family.band(quantity)
                    assert low <= given[0] <= given[1] <= high

    def test_hartmann_pressures_stay_out_of_the_band(self) -> None:
        polycarbonate = next(s for s in dust_family("polymer").samples if s.dust == "polycarbonate")
        assert polycarbonate.hartmann
        assert polycarbonate.pressure is not None
        low, _ = dust_family("polymer").band("pressure") or (0.0, 0.0)
        assert low == pytest.approx(6.47 * BAR)

    def test_a_property_nobody_gives_has_no_band(self) -> None:
        assert dust_family("iron").band("ignition_energy") is None

    def test_disagreeing_tables_are_both_kept(self) -> None:
        assert dust_family("zinc").band("explosible_concentration") == pytest.approx((0.25, 0.48))
        assert dust_family("iron").band("explosible_concentration") == pytest.approx((0.1, 0.125))

    def test_untested_composites_say_so(self) -> None:
        for name in ("glass-fibre composite", "carbon-fibre composite"):
            assert "until the dust is tested" in dust_family(name).remark
        assert dust_family("carbon-fibre composite").conductive

    def test_unknown_family_names_the_known_ones(self) -> None:
        with pytest.raises(ValueError, match="one of aluminium, magnesium"):
            dust_family("granite")


class TestExposure:
    def test_half_a_shift_counts_half(self) -> None:
        assert time_weighted_concentration(np.array([2e-6]), np.array([4 * HOUR])) == pytest.approx(1e-6, rel=1e-14)

    def test_three_levels_of_a_day(self) -> None:
        # (2 150 + 2 75 + 4 50)/8
        found = time_weighted_concentration([150e-6, 75e-6, 50e-6], np.array([2, 2, 4]) * HOUR)
        assert found == pytest.approx(81.25e-6, rel=1e-14)

    def test_mixture_adds_the_shares_of_the_limits(self) -> None:
        # 500/1000 + 45/200 + 40/200
        assert mixture_index([500e-6, 45e-6, 40e-6], [1000e-6, 200e-6, 200e-6]) == pytest.approx(0.925, rel=1e-14)

    def test_at_the_dust_limit_the_worst_constituent_is_at_its_own(self) -> None:
        limits, shares = np.array([1e-6, 5e-6, 0.1e-6]), np.array([0.2, 0.79, 0.01])
        dust = constituent_dust_limit(limits, shares)
        assert (dust * shares / limits).max() == pytest.approx(1, rel=1e-14)

    def test_absent_constituent_is_refused(self) -> None:
        with pytest.raises(ValueError, match="mass_shares"):
            constituent_dust_limit([1e-6], np.array([0.0]))

    def test_short_day_does_not_raise_the_lead_limit(self) -> None:
        assert lead_limit(np.array([4, 8, 16]) * HOUR) == pytest.approx([50e-9, 50e-9, 25e-9], rel=1e-14)


class TestLimits:
    def test_every_row_is_positive_and_sourced(self) -> None:
        for row in EXPOSURE_LIMITS:
            assert row.value > 0
            assert len(row.source) > 5

    def test_rows_are_not_repeated(self) -> None:
        keys = [(row.substance, row.authority, row.kind, row.fraction, row.source) for row in EXPOSURE_LIMITS]
        assert len(set(keys)) == len(keys)

    def test_all_authorities_stay_visible(self) -> None:
        found = {row.authority: row.value for row in exposure_limits("nickel")}
        assert found["OSHA"] == pytest.approx(1 * MILLIGRAM)
        assert found["NIOSH"] == pytest.approx(0.015 * MILLIGRAM)

    def test_the_strictest_of_the_chosen_authorities_governs(self) -> None:
        assert governing_limit({"cobalt": 0.1}).limit.value == pytest.approx(0.02 * MILLIGRAM)
        assert governing_limit({"cobalt": 0.1}, ("OSHA",)).dust_concentration == pytest.approx(1 * MILLIGRAM)

    def test_inert_dust_is_still_held_to_the_nuisance_limit(self) -> None:
        found = governing_limit({"cobalt": 0.001}, ("OSHA",))
        assert found.limit.substance == "particulates not otherwise regulated"
        assert found.dust_concentration == pytest.approx(5 * MILLIGRAM)

    def test_short_term_and_action_levels_do_not_bound_the_shift(self) -> None:
        assert governing_limit({"crystalline silica": 1.0}, ("OSHA",)).limit.kind == "TWA"

    @pytest.mark.parametrize("share", [0.0, -0.1, 1.1])
    def test_refuses_impossible_shares(self, share: float) -> None:
        with pytest.raises(ValueError, match="share of nickel"):
            governing_limit({"nickel": share})

    def test_unknown_substance_names_close_ones(self) -> None:
        with pytest.raises(ValueError, match=re.escape("no substance 'nickle'; known names are nickel")):
            exposure_limits("nickle")

    def test_authorities_without_any_limit_are_an_error(self) -> None:
        with pytest.raises(ValueError, match="EU set no limit for aluminium"):
            governing_limit({"aluminium": 1.0}, ("EU",))
