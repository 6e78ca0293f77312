"""Abrasives, backings and coatings: lookups, misses, and relations a slip of the pen would break."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest

from finishplan import reference
from finishplan.errors import ReferenceDataError
from finishplan.reference import AbrasiveFamily, Backing, Coating, Removal, Value
from finishplan.reference import coatings as coatings_module
from finishplan.reference.abrasives import ABRASIVES
from finishplan.reference.backings import BACKINGS as BACKING_TABLE
from finishplan.reference.coatings import COATINGS as COATING_TABLE
from finishplan.reference.grits import GRITS as GRIT_TABLE
from finishplan.reference.removal import COATING_GROUPS, GRIT_BANDS, REMOVAL, band_size
from finishplan.reference.table import Table, materials_directory, read_rows
from finishplan.reference.workpieces import GROUPS

UM = 1e-6
FAMILIES = [reference.abrasive(name) for name in reference.names("abrasives")]
GRADED = [family for family in FAMILIES if family.grain is not None]
REMOVALS = [reference.removal(name) for name in reference.names("removal")]
BACKINGS = [reference.backing(name) for name in reference.names("backings")]
COATINGS = [reference.coating(name) for name in reference.names("coatings")]
METALS = list(GROUPS[: GROUPS.index("nickel") + 1])
WOODS = ["hardwood", "softwood", "board"]


def by_name(row: AbrasiveFamily | Removal | Backing | Coating) -> str:
    return row.name


def band_of(figure: Value) -> tuple[float, float]:
    assert figure.low is not None
    assert figure.high is not None
    return figure.low, figure.high


class TestRemoval:
    def test_every_group_is_held(self) -> None:
        assert reference.names("removal") == [*GROUPS, *sorted(COATING_GROUPS, key=reference.names("removal").index)]

    def test_an_unknown_group_is_refused(self) -> None:
        with pytest.raises(ReferenceDataError, match=r"material group 'gelcoats' is not in .*close to it: 'gel-coat'"):
            reference.removal("gelcoats")

    @pytest.mark.parametrize("removal", REMOVALS, ids=by_name)
    def test_coarse_grain_takes_off_more(self, removal: Removal) -> None:
        for coarse, fine in pairwise(removal.coefficients.values()):
            assert coarse.value > fine.value
            assert all(above > below for above, below in zip(band_of(coarse), band_of(fine), strict=True))

    @pytest.mark.parametrize("removal", REMOVALS, ids=by_name)
    def test_bands_are_as_wide_as_the_knowledge_is_poor(self, removal: Removal) -> None:
        for figure in removal.coefficients.values():
            low, high = band_of(figure)
            assert 1.5 <= high / low <= 9
            assert figure.grade != "published"

    def test_metals_give_less_than_coatings_and_composites_and_these_less_than_wood(self) -> None:
        of_metals, of_resins, of_woods = (
            [reference.removal(group).coefficients["medium"].value for group in groups]
            for groups in (METALS, ["gfrp", "cfrp", "thermoplastic", "primer", "paint", "gel-coat"], WOODS)
        )
        assert max(of_metals) < min(of_resins)
        assert max(of_resins) < min(of_woods)

    def test_hard_metals_give_less(self) -> None:
        order = ["nickel", "titanium", "stainless", "steel-unalloyed", "aluminium", "magnesium"]
        coarse = [reference.removal(group).coefficients["coarse"].value for group in order]
        assert all(harder < softer for harder, softer in pairwise(coarse))

    @pytest.mark.parametrize("group", METALS)
    def test_specific_energy_is_that_of_grinding(self, group: str) -> None:
        """Force ratio over coefficient [J/mm3]; 3 to 200 spans easy to wasteful grinding of metals (identity)."""
        held = reference.removal(group)
        for figure in held.coefficients.values():
            assert 3e9 < held.force_ratio.value / figure.value < 200e9

    @pytest.mark.parametrize("removal", REMOVALS, ids=by_name)
    def test_the_coefficient_passes_through_its_bands(self, removal: Removal) -> None:
        for band, figure in removal.coefficients.items():
            found = removal.coefficient(band_size(band))
            assert (found.value, found.low, found.high) == pytest.approx((figure.value, figure.low, figure.high))
            assert found.path == figure.path

    @pytest.mark.parametrize("removal", REMOVALS, ids=by_name)
    def test_the_coefficient_falls_with_the_grain(self, removal: Removal) -> None:
        found = [removal.coefficient(grit.size.value).value for grit in reference.grits("FEPA-P")]
        assert all(coarse > fine for coarse, fine in pairwise(found))

    def test_beyond_its_bands_it_goes_with_the_named_power(self) -> None:
        exponent = reference.default("removal_size_exponent").value
        steel = reference.removal("steel-unalloyed")
        coarser = steel.coefficient(2 * band_size("coarse"))
        finer = steel.coefficient(band_size("fine") / 3)
        assert coarser.value == pytest.approx(steel.coefficients["coarse"].value * 2**exponent)
        assert finer.high == pytest.approx(band_of(steel.coefficients["fine"])[1] / 3**exponent)

    def test_bands_of_grits_follow_each_other(self) -> None:
        sizes = [reference.grit(grit).size.value for band in GRIT_BANDS.values() for grit in band]
        assert all(coarse > fine for coarse, fine in pairwise(sizes))

    @pytest.mark.parametrize("removal", REMOVALS, ids=by_name)
    def test_marks_and_wear_are_plausible(self, removal: Removal) -> None:
        assert 0.2 <= removal.worn_factor.value <= 0.7
        assert 0.003 <= band_of(removal.roughness_factor)[0] < band_of(removal.roughness_factor)[1] <= 0.06
        assert 0.2 <= removal.force_ratio.value <= 0.8


class TestAbrasives:
    def test_a_miss_names_close_matches(self) -> None:
        with pytest.raises(ReferenceDataError, match=r"abrasive family 'flap weel' is not in .*'flap wheel'"):
            reference.abrasive("flap weel")

    def test_a_window_not_held_names_those_held(self) -> None:
        with pytest.raises(ReferenceDataError, match="no window for the material group 'magnesium'; it has steel-una"):
            reference.abrasive("bonded wheel").window("magnesium")

    def test_every_group_can_be_abraded(self) -> None:
        assert {group for family in FAMILIES for group in family.windows} == set(reference.names("removal"))

    def test_windows_tell_their_own_group_and_forces(self) -> None:
        orbital = reference.abrasive("orbital disc")
        assert all(window.group == group for group, window in orbital.windows.items())
        forces = {group: orbital.window(group).force_high.value for group in ("stainless", "hardwood", "clearcoat")}
        assert forces == {"stainless": 60, "hardwood": 40, "clearcoat": 15}

    @pytest.mark.parametrize("family", FAMILIES, ids=by_name)
    def test_windows_open_and_stay_below_the_marking(self, family: AbrasiveFamily) -> None:
        assert family.rated_speed_share.value <= 1
        for window in family.windows.values():
            assert window.speed_low.value < window.speed_high.value
            assert window.force_low.value < window.force_high.value
            assert 15 <= window.half_life.value <= 12 * 3600
            if family.marked_speed is not None:
                assert window.speed_high.value <= family.marked_speed.value

    def test_whatever_spins_in_the_open_is_marked(self) -> None:
        unmarked = {family.tool for family in FAMILIES if family.marked_speed is None}
        assert unmarked == {"belt", "orbital", "grit router"}

    @pytest.mark.parametrize("family", FAMILIES, ids=by_name)
    def test_tough_metals_are_run_slower(self, family: AbrasiveFamily) -> None:
        held = [group for group in ("titanium", "nickel", "steel-unalloyed") if group in family.windows]
        speeds = [family.window(group).speed_high.value for group in held]
        assert family.tool == "orbital" or all(tough <= soft for tough, soft in pairwise(speeds))

    @pytest.mark.parametrize("family", FAMILIES, ids=by_name)
    def test_force_over_pressure_is_a_contact_the_tool_can_have(self, family: AbrasiveFamily) -> None:
        """Least force over highest pressure and the reverse enclose some contact; none is wider than the tool."""
        smallest = family.window(next(iter(family.windows))).force_low.value / family.pressure_high.value
        width = family.reference_size.value
        assert smallest < width * max(width, 0.05)

    @pytest.mark.parametrize("family", GRADED, ids=by_name)
    def test_ratios_are_to_the_coated_belt(self, family: AbrasiveFamily) -> None:
        assert family.grain is not None
        group = next(iter(family.windows))
        size = family.grain.coarsest.size.value
        belt = reference.removal(group).coefficient(size)
        found = family.removal_coefficient(group, size)
        assert found.value == pytest.approx(belt.value * family.grain.removal_ratio.value)
        assert band_of(found)[0] <= found.value <= band_of(found)[1]
        wider = math.log(band_of(found)[1] / band_of(found)[0]) >= math.log(band_of(belt)[1] / band_of(belt)[0]) - 1e-9
        assert wider

    def test_independent_bands_add_as_squares(self) -> None:
        family = reference.abrasive("nonwoven disc")
        assert family.grain is not None
        steel, ratio = reference.removal("steel-unalloyed").roughness_factor, family.grain.roughness_ratio
        up = math.hypot(math.log(0.025 / 0.010), math.log(0.8 / 0.5))
        assert (steel.value, steel.high, ratio.value, ratio.high) == (0.010, 0.025, 0.5, 0.8)
        assert family.roughness_factor("steel-unalloyed").high == pytest.approx(0.005 * math.exp(up))

    def test_a_figure_worked_out_is_graded_by_the_weaker(self) -> None:
        size = reference.grit("P80").size.value
        grades = [
            reference.abrasive(name).removal_coefficient("primer", size).grade for name in ("coated belt", "flap wheel")
        ]
        assert grades == ["derived", "from memory"]

    @pytest.mark.parametrize("family", [family for family in FAMILIES if family.grain is None], ids=by_name)
    def test_without_graded_grain_a_surface_is_refined(self, family: AbrasiveFamily) -> None:
        assert family.refinement is not None
        assert family.refinement.value < 1
        with pytest.raises(ReferenceDataError, match="has no graded grain; it refines a surface"):
            family.removal_coefficient("stainless", 100 * UM)
        with pytest.raises(ReferenceDataError, match="has no graded grain"):
            family.roughness_factor("stainless")

    def test_force_ratio_is_that_of_the_material_unless_the_family_settles_it(self) -> None:
        belt, brush = reference.abrasive("coated belt"), reference.abrasive("wire brush")
        assert belt.force_ratio_on("hardwood") is reference.removal("hardwood").force_ratio
        assert brush.force_ratio_on("stainless") is brush.force_ratio

    def test_only_brushes_are_fed_by_depth(self) -> None:
        assert {family.tool for family in FAMILIES if family.penetration is not None} == {"brush"}
        for family in FAMILIES:
            if family.penetration is not None:
                assert family.penetration.low.value < family.penetration.high.value <= 5e-3

    @pytest.mark.parametrize("family", GRADED, ids=by_name)
    def test_steps_of_a_sequence_exist_in_the_system(self, family: AbrasiveFamily) -> None:
        """From the coarsest grit to the finest there is always a next one within the step ratio."""
        assert family.grain is not None
        assert family.grain.coarsest.system == family.grain.finest.system
        held = reference.grits(family.grain.coarsest.system)
        offered = held[held.index(family.grain.coarsest) : held.index(family.grain.finest) + 1]
        for coarse, fine in pairwise(offered):
            assert coarse.size.value / fine.size.value <= family.grain.step_ratio.value


class TestBackings:
    def test_a_miss_names_close_matches(self) -> None:
        with pytest.raises(ReferenceDataError, match=r"backing 'soft foam' is not in .*'soft foam pad'"):
            reference.backing("soft foam")

    @pytest.mark.parametrize("backing", BACKINGS, ids=by_name)
    def test_the_yielding_layer_is_thin_against_the_whole(self, backing: Backing) -> None:
        assert backing.thickness.value <= 0.25 * backing.diameter.value
        assert (backing.modulus is None) == (backing.kind != "foam pad")
        assert backing.shore_a is None or 20 <= band_of(backing.shore_a)[0] < band_of(backing.shore_a)[1] <= 95

    def test_foam_ranks_by_stiffness_and_wheels_by_hardness(self) -> None:
        foams = [reference.backing(f"{word} foam pad").modulus for word in ("soft", "medium", "hard")]
        wheels = [
            reference.backing(f"{word} contact wheel").shore_a for word in ("very soft", "soft", "medium", "hard")
        ]
        for ranked in (foams, wheels):
            figures = [figure.value for figure in ranked if figure is not None]
            assert len(figures) == len(ranked)
            assert all(softer < harder for softer, harder in pairwise(figures))


class TestCoatings:
    def test_a_miss_names_close_matches(self) -> None:
        with pytest.raises(ReferenceDataError, match=r"coating 'clear coat 2' is not in .*'clearcoat'"):
            reference.coating("clear coat 2")

    def test_a_stack_runs_down_to_the_part(self) -> None:
        names = [layer.name for layer in reference.coating_stack("Clearcoat")]
        assert names == ["clearcoat", "basecoat", "surfacer", "e-coat"]
        assert [layer.name for layer in reference.coating_stack("gel coat")] == ["gel coat"]

    def test_a_car_body_carries_about_a_tenth_of_a_millimetre(self) -> None:
        """The whole film is gauged at 80 to 200 um, usually 100 to 120 um; common practice, no published source."""
        layers = reference.coating_stack("clearcoat")
        assert 100 * UM <= sum(layer.thickness.value for layer in layers) <= 120 * UM
        assert sum(band_of(layer.thickness)[1] for layer in layers) <= 200 * UM

    @pytest.mark.parametrize("coating", COATINGS, ids=by_name)
    def test_a_layer_may_not_be_taken_off_whole(self, coating: Coating) -> None:
        assert 0 < coating.removable_share.value <= 0.5
        assert 310 < coating.temperature_limit.value < 400
        assert 500 < coating.density.value < 1800
        assert coating.group in reference.names("removal")
        low, high = band_of(coating.thickness)
        assert 1.4 < high / low < 5

    def test_every_kind_of_coating_has_a_layer(self) -> None:
        assert set(COATING_GROUPS) < {coating.group for coating in COATINGS}

    def test_a_layer_beneath_itself_is_refused(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        text = shipped(COATING_TABLE).replace('group = "primer"\n', 'group = "primer"\nbeneath = "surfacer"\n', 1)
        circular = Table("coatings", "coating", COATING_TABLE.read)
        circular.__dict__["rows"] = read_rows("coatings", written(tmp_path, "coatings", text), COATING_TABLE.read)
        monkeypatch.setattr(coatings_module, "COATINGS", circular)
        with pytest.raises(ReferenceDataError, match=r"coatings\.clearcoat: 'surfacer' lies beneath itself"):
            reference.coating_stack("clearcoat")


def shipped(table: Table[object]) -> str:
    return (materials_directory() / f"{table.name}.toml").read_text(encoding="utf-8")


def written(tmp_path: Path, name: str, text: str) -> Path:
    path = tmp_path / f"{name}.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("table", "sound", "broken", "message"),
    [
        (GRIT_TABLE, 'P12 = { system = "FEPA-P"', 'P12 = { system = "FEPA"', "grits.P12.system: given 'FEPA'; wanted"),
        (GRIT_TABLE, "P12 = {", "P012 = {", "grits.P012.system: a grit of FEPA-P is called PNUMBER"),
        (GRIT_TABLE, '"CAMI 16" = {', "F16x = {", "grits.F16x.system: a grit of CAMI is called CAMI NUMBER"),
        (REMOVAL, "[brass]", "[bras]", "removal.bras: no such material group; wanted steel-unalloyed"),
        (REMOVAL, "very_fine =", "finest =", "removal.clearcoat.coarse: wanted a removal coefficient for at least one"),
        (REMOVAL, "medium =", "middle =", "removal.steel-unalloyed.middle: unknown field"),
        (REMOVAL, "mm3/(N m)", "mm3/s", "removal.steel-unalloyed.coarse: given unit 'mm3/s'; wanted a unit of removal"),
        (ABRASIVES, 'tool = "belt"', 'tool = "band"', "abrasives.coated belt.tool: given 'band'; wanted one of belt"),
        (ABRASIVES, 'coarsest_grit = "P24"', "", "abrasives.coated belt.coarsest_grit: wanted either graded grain, or"),
        (ABRASIVES, '"P24"', '"P2000"', "abrasives.coated belt.coarsest_grit: P2000 is not coarser than P500"),
        (ABRASIVES, '"P24"', '"P23"', "grit 'P23' is not in materials/grits.toml; next to it in FEPA-P: 'P20', 'P24'"),
        (ABRASIVES, '["zinc"]', '["zink"]', "abrasives.coated belt.windows.zinc.groups: no such material group 'zink'"),
        (ABRASIVES, '["zinc"]', '["brass"]', "windows.copper alloys.groups: 'brass' has a window already"),
        (ABRASIVES, "value = 8, ", "value = 88, ", "windows.zinc.speed_low: lies above abrasives.coated belt.windows"),
        (ABRASIVES, "penetration_low", "depth_low", "abrasives.wire brush.penetration_low: missing"),
        (ABRASIVES, 'tool = "brush"', 'tool = "wheel"', "abrasives.wire brush.penetration_high: unknown field"),
        (BACKING_TABLE, "modulus =", "shore =", "backings.soft foam pad.shore_a: wanted either the Shore A hardness"),
        (COATING_TABLE, 'group = "paint"', 'group = "pain"', "coatings.basecoat.group: given 'pain'; wanted one of"),
    ],
)
def test_a_malformed_table_names_path_and_reason(
    tmp_path: Path, table: Table[object], sound: str, broken: str, message: str
) -> None:
    text = shipped(table)
    assert sound in text
    path = written(tmp_path, table.name, text.replace(sound, broken, 1))
    with pytest.raises(ReferenceDataError) as caught:
        read_rows(table.name, path, table.read)
    assert message in str(caught.value)
