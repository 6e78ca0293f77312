"""The starter job and the schema: both must say everything the models know, and load or validate."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import get_args

import pytest
from pydantic import ValidationError
from pydantic.fields import FieldInfo

from finishplan import reference
from finishplan.job.fields import Section, example_of, section_of
from finishplan.job.loading import LoadedJob, load_job
from finishplan.job.model import Cell, CellFile, Job
from finishplan.job.schema import json_schema
from finishplan.job.starter import Process, starter_text
from finishplan.units import System


def sections(section: type[Section]) -> set[type[Section]]:
    found = {section}
    for field in section.model_fields.values():
        below = section_of(field.annotation)
        found |= sections(below) if below else set()
    return found


ALL_SECTIONS = sorted(sections(Job) | {CellFile}, key=lambda section: section.__name__)
FIELDS = [
    pytest.param(section, key, field, id=f"{section.__name__}.{key}")
    for section in ALL_SECTIONS
    for key, field in section.model_fields.items()
]


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_starter_loads_in_either_system(tmp_path: Path, units: System) -> None:
    loaded = load_starter(tmp_path, starter_text(units))
    assert loaded.job.job.units == units
    assert {tool.spindle for tool in loaded.tools_for(loaded.job.edge[0])} == {"rigid spindle", "floating spindle"}
    assert [spindle.compliance for spindle in loaded.cell.spindle] == [None, "floating mount"]


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_sanding_starter_loads_in_either_system(tmp_path: Path, units: System) -> None:
    loaded = load_starter(tmp_path, starter_text(units, "sanding"))
    assert loaded.job.job.units == units
    (panel,), (pad,) = loaded.job.surface, loaded.cell.abrasive
    assert loaded.abrasives_for(panel) == [pad]
    assert reference.abrasive(pad.family).tool == "orbital"
    assert len(pad.grits or ()) == 3
    assert [device.kind for device in loaded.cell.compliance] == ["force-controlled"]
    assert (loaded.job.edge, loaded.cell.tool) == ([], [])


@pytest.mark.parametrize("units", ["metric", "inch"])
def test_trimming_starter_loads_in_either_system(tmp_path: Path, units: System) -> None:
    loaded = load_starter(tmp_path, starter_text(units, "trimming"))
    assert loaded.job.job.units == units
    (rim,), (router,) = loaded.job.contour, loaded.cell.tool
    assert loaded.tools_for(rim) == [router]
    assert reference.cutter(router.family).geometry == "router"
    assert rim.stock is not None
    assert (loaded.job.edge, loaded.job.surface, loaded.cell.abrasive) == ([], [], [])


def load_starter(folder: Path, text: str) -> LoadedJob:
    path = folder / "starter.toml"
    path.write_text(text, encoding="utf-8")
    return load_job(path)


def test_deburring_is_what_a_starter_is_for_unless_stated() -> None:
    assert starter_text("metric") == starter_text("metric", "deburring")


@pytest.mark.parametrize("process", get_args(Process))
def test_starters_of_both_systems_describe_much_the_same_job(process: Process) -> None:
    texts = (starter_text(units, process) for units in get_args(System))
    metric, inch = (Job.model_validate(tomllib.loads(text)) for text in texts)
    for one, other in zip(numbers(metric.model_dump()), numbers(inch.model_dump()), strict=True):
        assert other == pytest.approx(one, rel=0.2)


def numbers(value: object) -> list[float]:
    if isinstance(value, dict):
        return [number for item in value.values() for number in numbers(item)]
    if isinstance(value, list):
        return [number for item in value for number in numbers(item)]
    return [value] if isinstance(value, int | float) else []


@pytest.mark.parametrize("process", get_args(Process))
def test_every_line_of_the_starter_is_explained(process: Process) -> None:
    lines = starter_text("metric", process).splitlines()
    assert "invented" in lines[1]
    assert all(" # " in line for line in lines[5:] if line)


@pytest.mark.parametrize(("section", "key", "field"), FIELDS)
def test_every_key_has_a_meaning_and_an_example_that_is_accepted(
    section: type[Section], key: str, field: FieldInfo
) -> None:
    assert field.description
    assert field.description.endswith(".")
    example = tomllib.loads(f"{key} = {example_of(field)}")
    try:
        section.model_validate(example)
    except ValidationError as error:
        reported = [fault["loc"] for fault in error.errors() if fault["type"] not in {"missing", "relation"}]
        assert reported == []


def test_job_schema_describes_quantities_as_text_with_an_example() -> None:
    schema = json_schema("job")
    height = schema["$defs"]["Burr"]["properties"]["height"]
    assert height["type"] == "string"
    assert height["examples"] == ["0.4 mm"]
    assert schema["$defs"]["Burr"]["additionalProperties"] is False
    assert set(schema["properties"]) == {"job", "part", "cell", "manual", "edge", "surface", "contour", "removal"}
    assert {"Cell", "CellFile"} <= set(schema["$defs"])


def test_cell_schema_requires_what_the_model_requires() -> None:
    required = [key for key, field in Cell.model_fields.items() if field.is_required()]
    assert json_schema("cell")["required"] == required
