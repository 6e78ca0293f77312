"""The job and cell files as JSON Schema, for completion and checks while they are written."""

from __future__ import annotations

from typing import Any, Literal

from pydantic.json_schema import GenerateJsonSchema

from finishplan.job.fields import Section
from finishplan.job.model import Cell, Job


def json_schema(file: Literal["job", "cell"]) -> dict[str, Any]:
    """Schema of a job or cell file.

    It knows the keys, their meaning and an example of each. What only a number can tell (bounds of
    a quantity, names that refer to one another) is checked when the file is loaded.
    """
    models: dict[str, type[Section]] = {"job": Job, "cell": Cell}
    return {"$schema": GenerateJsonSchema.schema_dialect, **models[file].model_json_schema()}
