"""What the sheet says to write loads as it stands and settles the notes that ask for it."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from finishplan.hazards import Context, Review, review, review_of
from finishplan.job import Installed, Part, load_job
from finishplan.planning.plan import make_plan

ROUNDS = 3
"""Answers raise questions of their own: a lock on the door asks for how long it holds."""


def written(found: Review, table: str) -> str:
    return "\n".join(question.write for question in found.questions if question.key.startswith(f"{table}."))


def answered(context: Context, found: Review) -> Context:
    """The same facts with every question answered by its own example."""
    stated = {key: value for key, value in context.installed.model_dump().items() if value is not None}
    own = Installed(**tomllib.loads(written(found, "installed"))).model_dump(exclude_unset=True)
    part = Part(material="material", **tomllib.loads(written(found, "part")))
    shares = dict(context.compositions)
    if part.composition is not None:
        shares[context.group] = part.composition.shares()
    return replace(
        context,
        installed=Installed.model_construct(**{**stated, **own}),
        compositions=shares,
        certified=context.certified or part.composition is not None,
        coating_content=tuple(part.coating_content) if part.coating_content else context.coating_content,
    )


@pytest.mark.parametrize("tool", ["burr", "belt", "orbital", "bonded"])
@pytest.mark.parametrize(
    "material", ["aluminium", "steel", "stainless", "brass", "oak", "polymer", "glass", "carbon", "primer"]
)
def test_every_example_is_an_answer(facts, material: str, tool: str) -> None:
    context = facts(material, tool, tool_changes=1, holding="vacuum")
    found = review_of(context)
    asked = {question.key for question in found.questions}
    for _ in range(ROUNDS):
        context = answered(context, found)
        found = review_of(context)
    assert not found.questions
    assert all(note.finding.compared.band is not None for note in found.notes)
    assert {"installed.extraction_flow", "installed.run_down_time", "installed.noise_level"} <= asked


@pytest.mark.parametrize(
    ("job", "cell", "table"),
    [
        ("painted_panel.toml", "sanding_cell.toml", "[installed]"),
        ("carried_bracket.toml", "carried_bracket.toml", "[cell.installed]"),
    ],
)
def test_the_lines_load_where_the_sheet_says(examples: Path, job: str, cell: str, table: str) -> None:
    found = review(make_plan(load_job(job)))
    places = {question.place for question in found.questions if question.key.startswith("installed.")}
    assert places == {f"{table} of {'the job' if cell == job else cell}"}
    Path(cell).write_text(f"{Path(cell).read_text()}\n{table}\n{written(found, 'installed')}\n")
    head, _, tail = Path(job).read_text().partition("[part]\n")
    Path(job).write_text(f"{head}[part]\n{written(found, 'part')}\n{tail}")
    loaded = load_job(job)
    assert loaded.cell.installed.model_fields_set == {
        question.key.partition(".")[2] for question in found.questions if question.key.startswith("installed.")
    }
    assert loaded.job.part.composition is not None or loaded.job.part.coating_content == ["none"]


def test_the_certificate_to_write_is_that_of_the_material(facts) -> None:
    """The shares the tables take for the group, a line each."""
    (question,) = (each for each in review_of(facts("stainless")).questions if each.key == "part.composition")
    assert question.write == 'composition.chromium = "18 %"\ncomposition.nickel = "8 %"'
    assert question.place == "[part] of the job"
