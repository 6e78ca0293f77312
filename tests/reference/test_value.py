"""Reading one figure: units, bands, and what a malformed entry is answered with."""

from __future__ import annotations

import math

import pytest

from finishplan.errors import ReferenceDataError
from finishplan.reference.value import read_value

SOUND = {
    "value": 650,
    "unit": "N/mm2",
    "low": 500,
    "high": 800,
    "source": "some-book",
    "locator": "table 3",
    "grade": "published",
}


def without(*keys: str) -> dict[str, object]:
    return {key: entry for key, entry in SOUND.items() if key not in keys}


def test_a_sound_entry_is_read_in_si() -> None:
    figure = read_value(SOUND, "t.toml", "t.a.kc11", "strength")
    assert (figure.value, figure.low, figure.high) == pytest.approx((650e6, 500e6, 800e6))
    assert (figure.unit, figure.source, figure.locator) == ("N/mm2", "some-book", "table 3")
    assert (figure.grade, figure.path, figure.title) == ("published", "t.a.kc11", "")


def test_a_band_is_optional() -> None:
    figure = read_value(without("low", "high"), "t.toml", "t.a.kc11", "strength")
    assert (figure.low, figure.high) == (None, None)


def test_temperatures_shift_and_angles_scale() -> None:
    limit = SOUND | {"value": 120, "low": 100, "high": 130, "unit": "degC"}
    assert read_value(limit, "t.toml", "t.a", "temperature").value == pytest.approx(393.15)
    rake = SOUND | {"value": -20, "low": -30, "high": -10, "unit": "deg"}
    assert read_value(rake, "t.toml", "t.a", "angle").value == pytest.approx(-math.pi / 9)


@pytest.mark.parametrize(
    ("entry", "reason"),
    [
        (7, "given 7; wanted a table with value, unit, source, locator, grade"),
        (without("source", "grade"), "source, grade missing"),
        (SOUND | {"note": "x"}, "unknown note"),
        (SOUND | {"unit": "N/mm3"}, "unit 'N/mm3'"),
        (SOUND | {"unit": "kg/m3"}, "wanted a unit of strength"),
        (SOUND | {"value": "650"}, "given '650'; wanted a finite number"),
        (SOUND | {"value": True}, "given True; wanted a finite number"),
        (SOUND | {"value": math.nan}, "given nan; wanted a finite number"),
        (SOUND | {"low": 700}, "value 650 lies outside its band 700 to 800"),
        (SOUND | {"high": 600}, "value 650 lies outside its band 500 to 600"),
        (without("low"), "low and high must be given together"),
        (SOUND | {"grade": "certain"}, "grade: given 'certain'; wanted one of published, read-off"),
        (SOUND | {"locator": "  "}, "locator: given '  '; wanted text"),
        (SOUND | {"source": 3}, "source: given 3; wanted text"),
    ],
)
def test_a_malformed_entry_names_file_path_and_reason(entry: object, reason: str) -> None:
    with pytest.raises(ReferenceDataError) as caught:
        read_value(entry, "t.toml", "t.a.kc11", "strength")
    assert str(caught.value).startswith("t.toml: t.a.kc11: ")
    assert reason in str(caught.value)


def test_without_a_kind_the_unit_must_still_be_known() -> None:
    assert read_value(SOUND | {"unit": "%"}, "t.toml", "t.a").value == pytest.approx(6.5)
    with pytest.raises(ReferenceDataError, match="wanted a known unit"):
        read_value(SOUND | {"unit": "furlong"}, "t.toml", "t.a")
