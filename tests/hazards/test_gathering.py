"""Facts gathered from plans: every process, and masses against volumes worked out by hand."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from finishplan.hazards import DEFERRAL, GROUPS, LEVELS, Review, review
from finishplan.hazards.gathering import context_of, removed_by
from finishplan.job import load_job
from finishplan.planning.plan import Plan, make_plan

Planned = Callable[[str], Plan]


def review_from(path: Path) -> Review:
    return review(make_plan(load_job(path)))


def test_an_operation_nobody_knows_is_refused() -> None:
    class Polishing:
        """No process of ours."""

    with pytest.raises(TypeError, match="no hazard facts for Polishing"):
        removed_by(Polishing(), None)  # type: ignore[arg-type]


def test_stock_ground_off_is_the_stock_of_the_job(example_plan: Planned) -> None:
    """Two gates of 18 mm x 30 mm stand 2.5 mm high and may keep 0.2 mm: 2 x 1242 mm3."""
    context = context_of(example_plan("gated_housing.toml"))
    gates = next(work for work in context.works if work.feature == "gates")
    assert gates.process == "stock removal"
    assert gates.volume == pytest.approx(2 * 18e-3 * 30e-3 * 2.3e-3, rel=1e-9)
    # the scatter of 0.8 mm may put that on top
    assert gates.most_volume == pytest.approx(2 * 18e-3 * 30e-3 * 3.1e-3, rel=1e-9)


def test_a_chamfered_edge_loses_section_times_length(example_plan: Planned) -> None:
    """Where the path has no slow corner, the length recovered from time and feed is the drawn one."""
    plan = example_plan("steel_bracket.toml")
    bores = next(feature for feature in plan.features if feature.name == "bores")
    context = context_of(plan)
    work = next(work for work in context.works if work.feature == "bores")
    section = float(bores.chosen.steps[0].found.evaluation.predictions["nominal"].section)
    assert work.volume == pytest.approx(section * bores.detail.outline.length, rel=0.02)
    assert work.mass == pytest.approx(work.volume * 7800, rel=0.01)


def test_a_full_slot_turns_to_dust_from_wall_to_wall(example_plan: Planned) -> None:
    """Length x thickness x diameter of the cutter: no less than the tabs leave, no more than all of it."""
    context = context_of(example_plan("gfrp_fender.toml"))
    slots = [work for work in context.works if work.feature == "rim" and work.volume > 0]
    assert slots
    assert all(work.process == "contour cutting" for work in slots)
    feature = next(work for work in slots)
    full = feature.feed * feature.contact * 4e-3 * feature.tool.diameter
    assert 0 < feature.volume <= full * (1 + 1e-9)


def test_a_coating_is_what_turns_to_dust_not_the_part_under_it(example_plan: Planned) -> None:
    context = context_of(example_plan("painted_panel.toml"))
    assert context.dusts == ("plastic",)
    assert {work.coating for work in context.works} == {"primer"}


def test_the_shift_of_the_cell_goes_before_the_default(examples: Path) -> None:
    job = Path("steel_bracket.toml")
    assert not context_of(make_plan(load_job(job))).assumed_shift
    whole = review_from(job).context
    cell = Path("finishing_cell.toml")
    cell.write_text(cell.read_text().replace('shift_length = "8 h"', 'shift_length = "4 h"'))
    half = review_from(job).context
    assert half.shift == 4 * 3600
    assert half.shift_mass == pytest.approx(whole.shift_mass / 2, rel=1e-9)


def test_the_parts_of_a_shift_are_those_of_the_plan_and_dust_counts_the_most(
    example: str, example_plan: Planned
) -> None:
    """Changes of part and worn tools take time in the plan; exposure errs high and leaves them out."""
    plan = example_plan(example)
    made, context = plan.throughput, context_of(plan)
    assert context.parts_per_shift == made.parts_per_shift
    assert context.most_parts_per_shift == pytest.approx(context.shift / plan.cycle.total)
    assert context.parts_per_shift < context.most_parts_per_shift
    of_a_part = sum(work.mass for work in context.works)
    assert context.shift_mass == pytest.approx(of_a_part * context.most_parts_per_shift)


def test_a_certificate_goes_before_the_tables(examples: Path) -> None:
    """Copper with 2 % beryllium: what the brass of the tables does not hold, the certificate does."""
    job = Path("steel_bracket.toml")
    job.write_text(
        job.read_text().replace('"C45E"', '"CuZn39Pb3"\ncomposition = { copper = "97.5 %", beryllium = "2 %" }')
    )
    found = {note.rule.id: note for note in review_from(job).notes}
    assert found["beryllium"].level == "fix before running"
    assert "lead" not in found
    # the law adds the shares of both limits up: 0.02/0.0002 of beryllium and 0.975/1 of copper, in mg/m3
    assert found["dust-exposure"].finding.compared.bound == pytest.approx(1e-6 / (0.02 / 0.0002 + 0.975 / 1))


@pytest.mark.parametrize("process", ["deburring", "sanding"])
@pytest.mark.parametrize("material", ["EN AC-46000", "C45E", "oak", "CFRP", "PA6", "Ti-6Al-4V", "CuZn39Pb3"])
def test_no_plan_leaves_without_notes(finishplan, tmp_path: Path, process: str, material: str) -> None:
    """Whatever is worked with whatever is in the cell, every group that is common to all cells speaks up."""
    job = tmp_path / "job.toml"
    assert finishplan("new", str(job), "--process", process).code == 0
    family = "carbide burr composite cut" if material in ("oak", "CFRP", "PA6") else "carbide burr double cut"
    text = job.read_text().replace("carbide burr aluminium cut", family)
    lines = [f'material = "{material}"' if line.startswith("material = ") else line for line in text.splitlines()]
    job.write_text("\n".join(lines))
    if finishplan("check", str(job)).code == 2:
        pytest.skip("no tool of the starter suits the material")
    found = review_from(job)
    assert {"dust", "guarding", "noise", "handling"} <= {note.rule.group for note in found.notes}
    assert {note.rule.group for note in found.notes} <= set(GROUPS)
    assert {note.level for note in found.notes} <= set(LEVELS)
    shown = " ".join(finishplan("plan", str(job)).out.split())
    assert all(note.rule.title in shown for note in found.notes)
    assert " ".join(DEFERRAL.split()) in shown


def test_a_review_without_notes_cannot_be_made(facts) -> None:
    with pytest.raises(ValueError, match="without hazard notes"):
        Review(facts(), ())
