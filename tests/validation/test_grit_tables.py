"""Grain sizes of the grit tables against the standards that define them, and against sieves.

Origins: "extract" is a figure of a printed table read in an extract of it; "library" is a figure of
a standard's table carried by a general-purpose library; "published" is read in the publication itself.
"""

from __future__ import annotations

import pytest

from finishplan import reference

UM = 1e-6


def size(designation: str) -> float:
    """Grain size of a grit [um]."""
    return reference.grit(designation).size.value / UM


def names(system: str) -> list[str]:
    return [grit.name for grit in reference.grits(system)]


# ISO 6344-2:2021, macro grits; two extracts of the table agree. Copied, so they must agree exactly.
@pytest.mark.parametrize(
    ("designation", "mean"),
    [
        ("P12", 1815), ("P16", 1324), ("P20", 1000), ("P24", 764), ("P30", 642), ("P36", 538), ("P40", 425),
        ("P50", 336), ("P60", 269), ("P80", 201), ("P100", 162), ("P120", 125),
    ],
)  # fmt: skip
def test_macro_grits_of_iso_6344_2(designation: str, mean: float) -> None:
    assert size(designation) == pytest.approx(mean)
    assert reference.grit(designation).size.source == "iso-6344-2"


def test_micro_grits_begin_and_end_where_iso_6344_3_puts_them() -> None:
    """ISO 6344-2 ends at P220 with 68 um, ISO 6344-3 begins at P240 with 58.5 um (58.4 in one extract of two).

    P2500 is 8.4 um in both extracts. 0.2 % for the digit they differ by.
    """
    assert size("P220") == pytest.approx(68)
    assert size("P240") == pytest.approx(58.4, rel=2e-3)
    assert size("P2500") == pytest.approx(8.4)


def test_scopes_of_the_standards() -> None:
    """ISO 6344-2: P12 to P220; ISO 6344-3: P240 to P5000; ISO 8486-2: F230 to F2000; published scopes."""
    coated, bonded = names("FEPA-P"), names("FEPA-F")
    assert (coated[0], coated[-1], bonded[-1]) == ("P12", "P5000", "F2000")
    assert coated[coated.index("P220") + 1] == "P240"
    assert bonded[bonded.index("F220") + 1] == "F230"
    macro = {name for name in coated if reference.grit(name).size.source == "iso-6344-2"}
    assert macro == set(coated[: coated.index("P220") + 1])


# ASTM E11, openings of wire cloth sieves by the old sieve number [um]; library (fluids 1.3.1,
# particle_size_distribution). Macro grits are numbered after the sieve they pass, so the mean grain lies
# near the opening of the same number. Sieves step by a factor of 1.19; a fraction spans about two of
# them and the systems cut it differently: a factor of 1.25.
ASTM_E11 = {
    8: 2360, 10: 2000, 12: 1700, 14: 1400, 16: 1180, 20: 850, 30: 600, 40: 425, 50: 300, 60: 250, 70: 212,
    80: 180, 100: 150, 120: 125,
}  # fmt: skip


@pytest.mark.parametrize("system", ["FEPA-P", "FEPA-F", "CAMI"])
def test_macro_grits_lie_near_the_sieve_of_their_number(system: str) -> None:
    compared = [grit for grit in reference.grits(system) if grit.number in ASTM_E11]
    assert len(compared) >= 9
    for grit in compared:
        ratio = grit.size.value / UM / ASTM_E11[grit.number]
        assert 1 / 1.25 < ratio < 1.25, grit.name


def test_f80_lies_between_its_sieves() -> None:
    """ASTM E11, sieves No. 100, No. 80 and No. 70: 150, 180 and 212 um; library.

    The grit is named after the middle one; a mean grain outside the outer two would be F70 or F90.
    """
    assert ASTM_E11[100] < size("F80") < ASTM_E11[70]
    assert abs(size("F80") - ASTM_E11[80]) < min(size("F70") - ASTM_E11[80], ASTM_E11[80] - size("F90"))


def test_macro_grits_of_bonded_wheels_step_as_the_sieves_do() -> None:
    """ISO 565, series R 40/3: sieves step by 10^(3/40) = 1.1885; from F8 to F120 the grits take 18 steps.

    The standard's own ratio, so 1 % on the mean step; a row left out or doubled moves it by 5 %.
    """
    held = names("FEPA-F")
    steps = held.index("F120") - held.index("F8")
    assert (size("F8") / size("F120")) ** (1 / steps) == pytest.approx(10 ** (3 / 40), rel=0.01)


def test_f180_lies_within_its_sieving_limits() -> None:
    """ISO 8486-1, F180: at most 3 % above 90 um, at least 94 % above 53 um; extract. So the mean lies between."""
    assert 53 < size("F180") < 90


def test_older_american_grits() -> None:
    """ANSI B74.18, extract: 16, 1320 um; 36, 535; 40, 428; 50, 351; 60, 268; 80, 192; 100, 141."""
    for number, mean in {16: 1320, 36: 535, 40: 428, 50: 351, 60: 268, 80: 192, 100: 141}.items():
        assert size(f"CAMI {number}") == pytest.approx(mean)


def test_conflicting_tables_lie_inside_the_bands() -> None:
    """ANSI B74.18, second extract: 24, 708 um; 1000, 10.3 um."""
    for designation, other in {"CAMI 24": 708, "CAMI 1000": 10.3}.items():
        figure = reference.grit(designation).size
        assert figure.low is not None
        assert figure.high is not None
        assert figure.low <= other * UM * (1 + 1e-9)
        assert figure.high >= other * UM * (1 - 1e-9)


def test_a_laboratory_sequence_keeps_within_the_step_ratio() -> None:
    """Materials 13 (2020), Table 1: metallographic grinding P180, P320, P600; published.

    A sequence in use must pass as one that leaves no scratches of the step before.
    """
    ratios = [size("P180") / size("P320"), size("P320") / size("P600")]
    grain = reference.abrasive("coated disc").grain
    assert grain is not None
    assert max(ratios) <= grain.step_ratio.value
    assert grain.step_ratio.low is not None
    assert min(ratios) > grain.step_ratio.low
