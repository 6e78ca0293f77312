"""The sheet of hazard notes as a reviewer meets it."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest

from finishplan.hazards import DEFERRAL
from finishplan.job import Installed, Part

JOB = "cast_cover.toml"


@pytest.mark.parametrize("columns", [80, 120])
def test_no_line_is_wider_than_the_terminal(finishplan, examples: Path, columns: int) -> None:
    ran = finishplan("hazards", JOB, columns=columns)
    assert ran.code == 0
    assert max(len(line.rstrip()) for line in ran.out.splitlines()) <= columns


def test_sheet_has_what_a_reviewer_works_from(finishplan, examples: Path) -> None:
    out = finishplan("hazards", JOB).out
    for heading in (
        "Dust",
        "Fire",
        "Guarding",
        "Noise",
        "Control of the process",
        "Handling",
        "Not stated",
        "Who decides",
    ):
        assert re.search(rf"^{heading}", out, re.MULTILINE), heading
    for label in ("figure", "threshold", "source", "check", "decides", "assumed", "asks for"):
        assert re.search(rf"^  {label} ", out, re.MULTILINE), label
    assert out.count("reviewed by") == 7
    assert " ".join(DEFERRAL.split()) in " ".join(out.split())


def test_json_has_units_in_its_keys_and_asks_by_key(finishplan, examples: Path) -> None:
    sheet = json.loads(finishplan("hazards", JOB, "--json").out)
    notes = {note["id"]: note for note in sheet["notes"]}
    assert notes["extraction-flow"]["figure_m3_h"] == pytest.approx(1500)
    assert notes["extraction-flow"]["state"].startswith("not met by a factor of")
    assert notes["collector-sharing"]["level"] == "stop"
    assert notes["noise-osha"]["besides"]["level_at_the_operator_s_place_dB_A"] == pytest.approx(79)
    assert all(note["source"] and note["check"] and note["decides"] for note in sheet["notes"])
    assert sum(sheet["levels"].values()) == len(sheet["notes"])
    keys = {question["key"].partition(".")[::2] for question in sheet["not_stated"]}
    assert {("installed", "dust_sample"), ("part", "composition")} <= keys
    models = {"installed": Installed, "part": Part}
    assert all(name in models[table].model_fields for table, name in keys)


def test_stating_a_key_settles_its_note(finishplan, examples: Path) -> None:
    cell = Path("finishing_cell.toml")
    assert '"installed.guard_energy"' in finishplan("hazards", JOB, "--json").out
    cell.write_text(cell.read_text() + 'guard_energy = "300 J"\n')
    sheet = json.loads(finishplan("hazards", JOB, "--json").out)
    note = next(note for note in sheet["notes"] if note["id"] == "thrown-cutter")
    assert (note["level"], note["threshold_J"]) == ("note", 300)
    assert "installed.guard_energy" not in {question["key"] for question in sheet["not_stated"]}


def test_inch_units_show_the_same_figures(finishplan, examples: Path) -> None:
    metric, inch = (
        json.loads(finishplan("hazards", JOB, "--json", "--units", system).out) for system in ("metric", "inch")
    )
    flow = next(note for note in inch["notes"] if note["id"] == "extraction-flow")
    same = next(note for note in metric["notes"] if note["id"] == "extraction-flow")
    assert flow["threshold_cfm"] * 1.699011 == pytest.approx(same["threshold_m3_h"], rel=1e-6)


def test_csv_has_a_line_per_note_and_defuses_formulas(finishplan, examples: Path) -> None:
    job = Path(JOB)
    job.write_text(job.read_text().replace('"flange rim"', '"=1+2"'))
    lines = list(csv.DictReader(io.StringIO(finishplan("hazards", JOB, "--csv").out)))
    assert len(lines) == len({line["id"] for line in lines}) > 20
    where = next(line["where"] for line in lines if line["id"] == "dust-exposure")
    assert where.startswith("'=1+2")
    flow = next(line for line in lines if line["id"] == "extraction-flow")
    assert (flow["figure"], flow["unit"], flow["sense"]) == ("1500", "m3/h", "at least")


def test_names_are_never_markup(finishplan, examples: Path) -> None:
    job = Path(JOB)
    job.write_text(
        job.read_text()
        .replace('"flange rim"', '"[red]<b>|x|"')
        .replace('title = "cast cover, edges after machining"', 'title = "# [red]cover"')
    )
    assert "[red]<b>|x|" in finishplan("hazards", JOB).out
    text = finishplan("hazards", JOB, "--markdown").out
    assert text.startswith("# \\# \\[red\\]cover: hazard notes for review\n")
    assert "\\[red\\]\\<b\\>\\|x\\|" in text
    assert "### stop: Dusts that must not meet in a collector" in text


def test_one_form_at_a_time(finishplan, examples: Path) -> None:
    ran = finishplan("hazards", JOB, "--json", "--markdown")
    assert (ran.code, ran.out) == (2, "")


def test_file_is_never_overwritten_unasked(finishplan, examples: Path) -> None:
    assert finishplan("hazards", JOB, "-o", "sheet.txt").code == 0
    first = Path("sheet.txt").read_text()
    assert "hazard notes for review" in first
    refused = finishplan("hazards", JOB, "--markdown", "-o", "sheet.txt")
    assert refused.code == 2
    assert "exists already" in refused.err
    assert Path("sheet.txt").read_text() == first
    assert finishplan("hazards", JOB, "--markdown", "-o", "sheet.txt", "--force").code == 0
    assert Path("sheet.txt").read_text().startswith("# ")


@pytest.mark.parametrize("form", [(), ("--json",), ("--csv",), ("--markdown",)])
@pytest.mark.parametrize("job", ["cast_cover.toml", "gated_housing.toml", "hardwood_seat.toml"])
def test_nothing_is_ever_called_free_of_danger(finishplan, examples: Path, form: tuple[str, ...], job: str) -> None:
    assert not re.search(r"\bsafe", finishplan("hazards", job, *form).out, re.IGNORECASE)


def test_an_infeasible_plan_has_its_notes_too(finishplan, examples: Path) -> None:
    job = Path("steel_bracket.toml")
    job.write_text(
        job.read_text().replace('lower = "0.1 mm", upper = "0.6 mm"', 'lower = "0.30 mm", upper = "0.31 mm"')
    )
    ran = finishplan("hazards", str(job))
    assert ran.code == 1
    assert "Who decides" in ran.out


def test_a_plan_ends_with_the_notes_and_who_decides(finishplan, examples: Path) -> None:
    plan = json.loads(finishplan("plan", JOB, "--json").out)
    assert plan["cautions"][0] == (
        "stop: Dusts that must not meet in a collector: ferrous with light-metal, wanted none that clash"
    )
    assert plan["cautions"][-1] == DEFERRAL
    levels = [caution.partition(":")[0] for caution in plan["cautions"][:-1]]
    order = ["stop", "fix before running", "check", "note"]
    assert levels == sorted(levels, key=order.index)
