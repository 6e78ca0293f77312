"""The starter job and the schema: both must say everything the models know, and load or validate."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from pydantic import ValidationError
from pydantic.fields import FieldInfo

from finishplan.job.fields import Section, example_of, section_of
from finishplan.job.loading import load_job
from finishplan.job.model import Cell, CellFile, Job
from finishplan.job.schema import json_schema
from finishplan.job.starter import starter_text
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
    path = tmp_path / "starter.toml"
    path.write_text(starter_text(units), encoding="utf-8")
    loaded = load_job(path)
    assert loaded.job.job.units == units
    assert {tool.spindle for tool in loaded.tools_for(loaded.job.edge[0])} == {"rigid spindle", "floating spindle"}
    assert [spindle.compliance for spindle in loaded.cell.spindle] == [None, "floating mount"]


def test_starters_of_both_systems_describe_much_the_same_job() -> None:
    metric, inch = (Job.model_validate(tomllib.loads(starter_text(units))) for units in ("metric", "inch"))
    for one, other in zip(numbers(metric.model_dump()), numbers(inch.model_dump()), strict=True):
        assert other == pytest.approx(one, rel=0.2)


def numbers(value: object) -> list[float]:
    if isinstance(value, dict):
        return [number for item in value.values() for number in numbers(item)]
    if isinstance(value, list):
        return [number for item in value for number in numbers(item)]
    return [value] if isinstance(value, int | float) else []


def test_every_line_of_the_starter_is_explained() -> None:
    lines = starter_text("metric").splitlines()
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
    assert set(schema["properties"]) == {"job", "part", "cell", "edge"}
    assert {"Cell", "CellFile"} <= set(schema["$defs"])


def test_cell_schema_requires_what_the_model_requires() -> None:
    required = [key for key, field in Cell.model_fields.items() if field.is_required()]
    assert json_schema("cell")["required"] == required
