"""Grits by designation: lookups, misses, and the run of sizes a slip of the pen would break."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from finishplan import reference
from finishplan.errors import ReferenceDataError
from finishplan.reference.grits import PREFIXES


@pytest.mark.parametrize(
    ("designation", "name"),
    [
        ("P120", "P120"), ("p120", "P120"), ("P 120", "P120"), ("f80", "F80"), ("CAMI 120", "CAMI 120"),
        ("cami120", "CAMI 120"), ("CAMI-120", "CAMI 120"), ("ANSI 120", "CAMI 120"), ("d 251", "D251"),
    ],
)  # fmt: skip
def test_found_in_any_writing(designation: str, name: str) -> None:
    assert reference.grit(designation).name == name


@pytest.mark.parametrize(
    ("designation", "hint"),
    [
        ("P130", "next to it in FEPA-P: 'P120', 'P150'"),
        ("f 33", "next to it in FEPA-F: 'F30', 'F36'"),
        ("ANSI 700", "next to it in CAMI: 'CAMI 600', 'CAMI 1000'"),
        ("D300", "next to it in ISO 6106: 'D301', 'D251'"),
        ("P8", "FEPA-P runs from 'P12' to 'P5000'"),
        ("F9999999999", "as in P120, F120, CAMI 120 or D126"),
        ("120", "a number means a grain size only with its system, as in P120, F120, CAMI 120 or D126"),
        ("X120", "as in P120, F120, CAMI 120 or D126"),
        ("fine", "as in P120, F120, CAMI 120 or D126"),
    ],
)
def test_a_miss_names_its_neighbours(designation: str, hint: str) -> None:
    with pytest.raises(ReferenceDataError) as caught:
        reference.grit(designation)
    assert str(caught.value).startswith(f"grit {designation!r} is not in materials/grits.toml; ")
    assert str(caught.value).endswith(hint)


def test_a_row_is_found_the_same_way() -> None:
    assert reference.row("grits", "ansi 120") is reference.grit("CAMI 120")


def test_an_unknown_system_is_refused() -> None:
    with pytest.raises(
        ReferenceDataError, match="no grit system is called 'JIS'; there is FEPA-P, FEPA-F, CAMI, ISO 6106"
    ):
        reference.grits("JIS")


def test_systems_share_out_all_grits() -> None:
    assert sorted(grit.name for system in PREFIXES for grit in reference.grits(system)) == sorted(
        reference.names("grits")
    )


@pytest.mark.parametrize("system", PREFIXES)
def test_grain_follows_the_number(system: str) -> None:
    held = reference.grits(system)
    # the number of a diamond grit is a size itself
    falls = system == "ISO 6106"
    assert all((coarse.number < fine.number) is not falls for coarse, fine in pairwise(held))
    assert all(coarse.size.value > fine.size.value for coarse, fine in pairwise(held))


@pytest.mark.parametrize("system", PREFIXES)
def test_every_grit_lies_near_the_line_of_its_neighbours(system: str) -> None:
    """Left out and interpolated in logarithms of number and size, a grit comes back within 9 %.

    A digit dropped or two swapped throws most rows off by more. CAMI 220 is left out: there the
    system goes over from sieving to sedimentation and its sizes step by an eighth.
    """
    held = reference.grits(system)
    for coarse, grit, fine in zip(held, held[1:], held[2:], strict=False):
        share = math.log(grit.number / coarse.number) / math.log(fine.number / coarse.number)
        line = coarse.size.value ** (1 - share) * fine.size.value**share
        assert grit.name == "CAMI 220" or grit.size.value == pytest.approx(line, rel=0.09), grit.name


def test_one_number_means_three_sizes() -> None:
    """By size CAMI 320, 400 and 600 lie nearest P400, P800 and P1200, as one of two lists of equivalents says."""
    nearest = {
        number: min(
            reference.grits("FEPA-P"),
            key=lambda grit: abs(math.log(grit.size.value / reference.grit(f"CAMI {number}").size.value)),
        ).name
        for number in (320, 400, 600)
    }
    assert nearest == {320: "P400", 400: "P800", 600: "P1200"}
