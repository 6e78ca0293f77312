"""Whole hazard notes against figures that laws, standards and authorities print.

Origins: "law" and "standard" are figures of the text itself, "printed" an example or table row the
publication works out, "recomputed" follows from figures of the publication by the definition of their
units, "library" takes constants from scipy.constants. Every check goes from the facts of a cell to
the threshold or level a reviewer reads.
"""

from __future__ import annotations

import math

import pytest
from scipy import constants

from finishplan.hazards import Context, Note, review_of
from finishplan.hazards.context import TurningTool, Work
from finishplan.hazards.dusts import FAMILIES
from finishplan.job import Installed
from finishplan.physics.dust import DustFamily, DustSample

INCH = constants.inch
CFM = constants.foot**3 / constants.minute
FPM = constants.foot / constants.minute
HOUR = constants.hour
MILLIGRAM = 1e-6
EXACT = 1e-9
"""Rounding of the conversions; figures of a law are exact."""


def note(
    rule: str,
    *,
    tool: TurningTool | None = None,
    dust: str = "ferrous",
    content: dict[str, float] | None = None,
    rate: float = 1e-6,
    shift: float = 8 * HOUR,
    coating: str | None = None,
    families: dict[str, DustFamily] | None = None,
    part_carried: bool = False,
    **installed: object,
) -> Note:
    """One note of a cell that makes dust at a rate [kg/s] for the whole of a shift [s]."""
    turning = tool or TurningTool("tool", "wheel", "bonded wheel", 0.2, 0.025, None, 50.0, 50.0, 60.0)
    work = Work(
        "feature", "stock removal", turning, "group", dust, coating, rate * 10 / 1000, rate * 10 / 1000, 1000.0, 0.0,
        10.0, 100.0, 20.0, 0.05, None,
    )  # fmt: skip
    context = Context(
        title="job", cell="cell", material="material", group="group", works=(work,), cycle=10.0,
        tool_changes=0, tools_per_part=0.0,
        shift=shift, parts_per_shift=shift / 10.0, most_parts_per_shift=shift / 10.0,
        robot="articulated", top_speed=1.0, air_speed=0.5, carried_mass=5.0, part_carried=part_carried,
        part_mass=None, holding=None,
        margin=0.2, installed=Installed(**installed), compositions={"group": content or {}}, certified=True,
        coating_content=None, families=FAMILIES if families is None else families, assumed_shift=False, cell_file=None,
    )  # fmt: skip
    return next(each for each in review_of(context).notes if each.rule.id == rule)


def wheel(family: str, diameter: float, width: float, **speeds: float) -> TurningTool:
    turning = {"free_rotation": 20.0, "planned_rotation": 20.0, "rated_rotation": 25.0, **speeds}
    return TurningTool("wheel", "wheel", family, diameter, width, None, **turning)


def besides(found: Note, label: str) -> float:
    amount = next(amount for amount in found.finding.also if amount.label == label)
    assert isinstance(amount.value, float)
    return amount.value


@pytest.mark.parametrize(
    ("family", "diameter", "width", "flow", "table"),
    [
        pytest.param("bonded wheel", 20, 4.5, 610 * 4.5 / 4, "G-4", id="the regulation's own example, printed as 690"),
        pytest.param("cut-off wheel", 16, 2, 390, "G-4", id="G-4, 16 in"),
        pytest.param("wire brush", 12, 3, 500, "G-5", id="G-5, 12 in"),
        pytest.param("buff", 24, 5, 740, "G-5", id="G-5, 24 in"),
        pytest.param("fibre disc", 7, 1, 220, "G-6", id="G-6, 12 in or less"),
        pytest.param("coated belt", 5, 4, 300, "G-9", id="G-9, belt of 3 to 5 in"),
    ],
)
def test_air_to_draw_by_the_tables_of_1910_94(
    family: str, diameter: float, width: float, flow: float, table: str
) -> None:
    """29 CFR 1910.94(b)(3), Tables G-4 to G-9. Origin: law."""
    found = note("extraction-flow", tool=wheel(family, diameter * INCH, width * INCH))
    assert found.finding.compared.bound / CFM == pytest.approx(flow, rel=EXACT)
    assert table in found.source


def test_a_wheel_beyond_table_g_4_is_told_so() -> None:
    """29 CFR 1910.94(b)(3)(ii), Table G-4 ends at 36 in. Origin: law."""
    found = note("exhaust-table", tool=wheel("bonded wheel", 40 * INCH, 6 * INCH))
    assert found.finding.compared.bound / INCH == pytest.approx(36, rel=EXACT)
    assert found.level == "check"


def test_inward_air_at_a_partial_enclosure() -> None:
    """Michigan Administrative Code R 325.52506(5): 200 fpm over the opening. Origin: law."""
    found = note("face-velocity", booth_opening="2 ft2", extraction_flow="500 cfm")
    assert found.finding.compared.value / FPM == pytest.approx(250, rel=EXACT)
    assert found.finding.compared.bound / FPM == pytest.approx(200, rel=EXACT)


def test_aluminium_dust_runs_at_the_branch_velocity() -> None:
    """29 CFR 1910.94(b)(3): 4500 fpm in branches, above the 20 m/s of DGUV Regel 109-001. Origin: law.

    390 cfm, the volume of Table G-4 for 16 in, then wants a duct of 4 in (3.986 in, 0.2 % of rounding).
    """
    found = note("duct-velocity", dust="light-metal", extraction_flow="390 cfm")
    assert found.finding.compared.bound / FPM == pytest.approx(4500, rel=EXACT)
    assert besides(found, "widest duct for 663 m3/h") / INCH == pytest.approx(3.986, rel=2e-3)


@pytest.mark.parametrize(
    ("level", "hours"),
    [(80, 32), (82, 24.3), (85, 16), (86, 13.9), (88, 10.6), (90, 8), (92, 6.1), (95, 4), (98, 2.6), (101, 1.7)],
)
def test_time_permitted_by_table_g_16a(level: float, hours: float) -> None:
    """29 CFR 1910.95, Appendix A, Table G-16a, printed to 0.1 h. Origin: law.

    Tolerance: half of the last digit printed.
    """
    found = note("noise-osha", noise_level=f"{level} dB(A)")
    assert besides(found, "time permitted at the middle of it") / HOUR == pytest.approx(hours, abs=0.05)


def test_half_the_dose_is_85_decibels_over_eight_hours() -> None:
    """29 CFR 1910.95, Appendix A, Table G-16a: 85 dB(A) may last 16 hours, so 8 of them are half. Origin: law."""
    assert note("noise-osha", noise_level="85 dB(A)").finding.compared.value == pytest.approx(8 / 16, rel=EXACT)


@pytest.mark.parametrize(("level", "minutes"), [(85, 480), (94, 60), (100, 15)])
def test_time_permitted_by_niosh(level: float, minutes: float) -> None:
    """NIOSH Publication 98-126: 85 dB(A) for eight hours, and two of its examples. Origin: printed."""
    found = note("noise-niosh", noise_level=f"{level} dB(A)")
    assert besides(found, "time permitted at the middle of it") / 60 == pytest.approx(minutes, rel=1e-6)


@pytest.mark.parametrize(
    ("opening", "shape", "length", "distance"),
    [
        ("6 mm", "slot", None, 10),
        ("9 mm", "slot", None, 80),
        ("15 mm", "slot", None, 120),
        ("25 mm", "slot", None, 850),
        ("25 mm", "slot", "60 mm", 200),
        ("35 mm", "square", None, 200),
        ("9 mm", "round", None, 20),
    ],
)
def test_reach_through_openings(opening: str, shape: str, length: str | None, distance: float) -> None:
    """ISO 13857:2019, Table 4, persons of 14 years and above. Origin: standard."""
    given = {"slot_length": length} if length else {}
    found = note("guard-opening", guard_opening=opening, opening_shape=shape, guard_distance="1 m", **given)
    assert found.finding.compared.bound * 1e3 == pytest.approx(distance, rel=EXACT)


def test_a_hand_is_quicker_than_a_coasting_spindle() -> None:
    """ISO 13855:2010, K = 1600 mm/s: 2.0 m are walked in 1.25 s, a run-down of 3.5 s asks for a lock.

    Origin: recomputed from the standard's speed.
    """
    found = note("guard-locking", guard_distance="2.0 m", run_down_time="3.5 s")
    assert found.finding.compared.bound == pytest.approx(1.25, rel=EXACT)
    assert found.level == "stop"


def test_lead_in_a_coating_over_a_long_shift() -> None:
    """29 CFR 1910.1025, Appendix B: ten hours of work allow 40 micrograms per cubic metre. Origin: printed."""
    found = note("coating-content", dust="plastic", coating="primer", shift=10 * HOUR)
    assert besides(found, "lead, OSHA, over this shift") / MILLIGRAM == pytest.approx(0.040, rel=EXACT)


def test_nickel_governs_the_dust_of_18_8_steel() -> None:
    """NIOSH Pocket Guide: nickel 0.015 mg/m3; at 8 % of the dust 0.1875 mg/m3 of it. Origin: recomputed."""
    found = note("dust-exposure", dust="stainless-nickel", content={"chromium": 0.18, "nickel": 0.08, "iron": 0.74})
    assert found.finding.compared.bound / MILLIGRAM == pytest.approx(0.1875, rel=EXACT)
    assert "NIOSH" in found.source


def test_hardwood_is_held_to_the_lower_of_two_authorities() -> None:
    """NIOSH 1 mg/m3; Directive 2004/37/EC, Annex III: 2 mg/m3 for the whole mix. Origin: law."""
    found = note("wood-dust", dust="wood", content={"hardwood": 1.0})
    assert found.finding.compared.bound / MILLIGRAM == pytest.approx(1.0, rel=EXACT)
    assert besides(found, "hardwood: EU, TWA, inhalable") / MILLIGRAM == pytest.approx(2.0, rel=EXACT)


@pytest.mark.parametrize(
    ("index", "expected"), [(116.6, "St 1"), (200, "St 1"), (201, "St 2"), (300, "St 2"), (508, "St 3")]
)
def test_classes_of_explosion(index: float, expected: str) -> None:
    """OSHA CPL 03-00-008: above 0 St 1, above 200 St 2, above 300 bar m/s St 3. Origin: law."""
    sample = DustSample("tested", None, (index * 1e5, index * 1e5), None, None, None, "a test", "derived")
    found = note("combustible-dust", families={"ferrous": DustFamily("iron", (sample,))})
    assert next(amount.value for amount in found.finding.also if amount.label == "class") == expected


def test_dilution_to_a_quarter_of_what_can_explode() -> None:
    """NFPA 480:1998, 4-2.6.2: below 25 % of 30 g/m3 for aluminium at 100 g/min asks for 800 m3/h.

    Origin: recomputed from the clause.
    """
    found = note("duct-dilution", dust="light-metal", rate=0.1 / 60, extraction_flow="800 m3/h")
    compared = found.finding.compared
    assert compared.value == pytest.approx(compared.bound, rel=EXACT)
    assert found.level == "check"


def test_hydrogen_of_ten_grams_of_aluminium() -> None:
    """2 Al + 6 H2O -> 2 Al(OH)3 + 3 H2 at 0 degC and one atmosphere. Origin: library, scipy.constants.

    Tolerance: rounding of the atomic weight, 26.98.
    """
    found = note("hydrogen", dust="light-metal", rate=0.010 / (8 * HOUR), collector="wet")
    molar_volume = constants.R * constants.zero_Celsius / constants.atm
    expected = 10 / 26.98 * 1.5 * molar_volume
    assert besides(found, "hydrogen from a shift's dust, at most") == pytest.approx(expected, rel=1e-3)


def test_layer_over_a_twentieth_of_the_floor() -> None:
    """NFPA 654:2013, 6.1: 1/32 in at 75 lb/ft3 over 5 % of 10 000 ft2, 97.7 lb. Origin: recomputed.

    Tolerance: the standard rounds 1/32 in to 0.8 mm and 75 lb/ft3 to 1200 kg/m3, 0.7 % together.
    """
    found = note("dust-layer", floor_area="10000 ft2")
    pounds = 1 / 32 / 12 * 75 * 500
    assert found.finding.compared.bound / constants.pound == pytest.approx(pounds, rel=0.01)


def test_a_wheel_marked_80_does_not_go_on_a_spindle_of_100() -> None:
    """29 CFR 1910.243(c)(5)(i): the speed marked is not exceeded. Origin: law; speeds recomputed.

    A wheel of 115 mm marked 80 m/s turns at 13 286 rpm at most; at 100 m/s it would at 16 607 rpm.
    """
    tool = wheel("cut-off wheel", 0.115, 0.001, free_rotation=16607 / 60, rated_rotation=13286 / 60)
    found = note("rated-speed", tool=tool)
    assert found.level == "stop"
    assert besides(found, "share of the marked speed") == pytest.approx(100 / 80, rel=1e-4)


def test_beryllium_counts_from_a_tenth_of_a_percent() -> None:
    """29 CFR 1910.1024, Appendix A: operations on materials of at least 0.1 % beryllium. Origin: law."""
    assert note("beryllium", content={"beryllium": 0.001}).finding.compared.bound == pytest.approx(0.001)
    with pytest.raises(StopIteration):
        note("beryllium", content={"beryllium": 0.0009})


def test_constituents_add_up_where_the_law_says_so() -> None:
    """29 CFR 1910.1000(d)(2)(i): E_m = sum C/L at most 1; Table Z-1: cobalt 0.1, chromium 1 mg/m3.

    Equal shares: C (0.5/0.1 + 0.5/1) = 1 at 0.1818 mg/m3. Origin: recomputed from the clause.
    """
    found = note("dust-exposure", content={"cobalt": 0.5, "chromium": 0.5})
    added = besides(found, "dust by OSHA, constituents added, 29 CFR 1910.1000(d)(2)(i)")
    assert added / MILLIGRAM == pytest.approx(1 / (0.5 / 0.1 + 0.5 / 1), rel=EXACT)


def test_a_limit_for_fume_is_none_for_dust() -> None:
    """29 CFR 1910.1000, Table Z-1: copper 1 mg/m3 as dust, 0.1 as fume; at 58 % 1.724 mg/m3. Origin: law."""
    found = note("dust-exposure", dust="copper-alloy", content={"copper": 0.58})
    assert besides(found, "dust by OSHA, for its copper") / MILLIGRAM == pytest.approx(1 / 0.58, rel=EXACT)


@pytest.mark.parametrize(("family", "carried", "degrees"), [("bonded wheel", True, 90), ("bonded wheel", False, 180)])
def test_guard_around_a_wheel(family: str, *, carried: bool, degrees: float) -> None:
    """29 CFR 1910.215(b)(3): 90 degrees on a stand; 8 CCR 3583(d): 180 on a portable grinder. Origin: law."""
    tool = wheel(family, 0.2, 0.025)
    found = note("wheel-guard", tool=tool, part_carried=carried, wheel_guard_angle="120 deg")
    assert found.finding.compared.bound == pytest.approx(math.radians(degrees))
    assert found.level == ("stop" if carried else "note")


@pytest.mark.parametrize(("opening", "inches"), [("6 mm", 1 / 2), ("15 mm", 3 + 1 / 2), ("25 mm", 7 + 1 / 2)])
def test_openings_by_the_table_for_presses(opening: str, inches: float) -> None:
    """29 CFR 1910.217, Table O-10: 1/4 in from 1/2 in on, 5/8 in from 3 1/2, 1 1/4 in from 7 1/2. Origin: law."""
    found = note("guard-opening", guard_opening=opening, guard_distance="1 m")
    label = "for comparison: 29 CFR 1910.217, Table O-10, written for presses"
    assert besides(found, label) / INCH == pytest.approx(inches, rel=EXACT)


def test_light_curtain_beside_the_law_for_presses() -> None:
    """29 CFR 1910.217(c)(3)(iii)(e): 63 in/s; 0.317 s make 19.97 in, OSHA's chart rounds to 20. Origin: agency."""
    times = {"stopping_time": "0.317 s", "run_down_time": "0.1 s"}
    found = note("light-curtain", light_curtain_resolution="14 mm", light_curtain_distance="1 m", **times)
    label = "by 29 CFR 1910.217(c)(3)(iii)(e), written for presses"
    assert besides(found, label) / INCH == pytest.approx(20, abs=0.25)


@pytest.mark.parametrize(("level", "hours", "daily"), [(90, 4, 87), (94, 1, 85)])
def test_daily_level_of_part_of_a_shift(level: float, hours: float, daily: float) -> None:
    """SCENIHR 2008, Table 3, to Directive 2003/10/EC: 90 dB for 4 h are 87, 94 dB for 1 h are 85. Origin: printed.

    Tolerance: the table rounds to whole decibels and halves.
    """
    found = note("noise-eu-lower", noise_level=f"{level} dB(A)", shift=hours * HOUR)
    assert found.finding.compared.value == pytest.approx(daily, abs=0.05)


def test_brass_dust_runs_as_the_heavy_dust_it_is() -> None:
    """ACGIH, Industrial Ventilation, duct design velocities: brass among the heavy, 4000 fpm. Origin: printed."""
    assert note("duct-velocity", dust="copper-alloy").finding.compared.bound / FPM == pytest.approx(4000, rel=EXACT)


def test_brass_does_not_go_to_the_collector_of_a_light_metal() -> None:
    """NFPA 480:1998, 4-2.4.8: a collector for the light metal alone. Origin: law."""
    found = note("collector-sharing", dust="copper-alloy", collector_shared_with=["magnesium"])
    assert found.level == "stop"
