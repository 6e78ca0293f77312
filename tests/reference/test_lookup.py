"""Finding records by name and alias, and what a miss is answered with."""

from __future__ import annotations

import dataclasses
import typing

import pytest

from finishplan import reference
from finishplan.errors import ReferenceDataError
from finishplan.job.cell import Robot


@pytest.mark.parametrize("name", ["EN AC-46000", "en ac-46000", "EN AC 46000", "AlSi9Cu3", "alsi9cu3(fe)"])
def test_a_material_is_found_by_name_and_alias_in_any_case(name: str) -> None:
    assert reference.workpiece(name).name == "EN AC-46000"


def test_every_alias_leads_to_its_own_record() -> None:
    for name in reference.names("workpieces"):
        material = reference.workpiece(name)
        assert {reference.workpiece(alias).name for alias in material.aliases} <= {name}


def test_a_miss_names_close_matches() -> None:
    with pytest.raises(ReferenceDataError, match=r"workpiece material 'S235JX' is not in .*close to it: 'S235JR'"):
        reference.workpiece("S235JX")


def test_a_miss_with_nothing_close_names_what_there_is() -> None:
    with pytest.raises(ReferenceDataError, match=r"known: 'articulated', 'collaborative', 'gantry'"):
        reference.robot_class("zzz")


def test_a_window_not_held_names_those_held() -> None:
    family = reference.cutter("carbide burr aluminium cut")
    assert family.window("aluminium").group == "aluminium"
    with pytest.raises(ReferenceDataError, match="no window for the material group 'titanium'; it has aluminium, mag"):
        family.window("titanium")


def test_an_unknown_table_is_refused() -> None:
    with pytest.raises(ReferenceDataError, match="no reference table is called 'cutter'; there is cutters"):
        reference.names("cutter")


def test_rows_come_under_their_names() -> None:
    for table in reference.tables():
        assert [row.name for row in reference.rows(table)] == reference.names(table)


def test_records_cannot_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        reference.workpiece("oak").title = "Pine"  # type: ignore[misc]


def test_every_robot_kind_a_cell_may_name_has_class_figures() -> None:
    kinds = typing.get_args(Robot.model_fields["kind"].annotation)
    assert list(kinds) == reference.names("robots")


def test_every_material_group_has_a_cutter() -> None:
    held = {group for name in reference.names("cutters") for group in reference.cutter(name).windows}
    assert {reference.workpiece(name).group for name in reference.names("workpieces")} == held
