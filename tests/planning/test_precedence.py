"""What is finished before what: the usual stages, what the job says instead, and the plan that follows."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from finishplan.job import load_job
from finishplan.planning.plan import make_plan
from finishplan.planning.precedence import precedence

CELL = Path(__file__).parents[2] / "examples" / "sanding_cell.toml"

JOB = f"""\
job = {{ title = "housing" }}
part = {{ material = "EN-GJL-250" }}
cell = {{ file = "{CELL.as_posix()}" }}

[[removal]]
name = "gates"
kind = "gate"
height = "2.5 mm"
width = "18 mm"
length = "30 mm"
tools = ["belt 50"]

[[edge]]
name = "rim"
length = "620 mm"
burr = {{ height = "0.2 mm", root_thickness = "0.1 mm" }}
edge_break = {{ measure = "radius", lower = "0.4 mm", upper = "1.5 mm" }}
tools = ["flap wheel 80"]
"""
KINDS = ("removal", "contour", "edge", "surface")


def job_of(kinds: dict[str, str], after: dict[str, list[str]] | None = None) -> Any:
    """A job of named features, each of a kind, with what they wait for."""
    waits = after or {}
    features = {name: SimpleNamespace(name=name, after=waits.get(name)) for name in kinds}
    return SimpleNamespace(**{kind: [features[name] for name in kinds if kinds[name] == kind] for kind in KINDS})


def test_stock_and_contours_before_edges_before_surfaces() -> None:
    job = job_of({"face": "surface", "rim": "edge", "cut": "contour", "gate": "removal", "bore": "edge"})
    assert precedence(job) == {
        "gate": frozenset(),
        "cut": frozenset(),
        "rim": {"gate", "cut"},
        "bore": {"gate", "cut"},
        "face": {"gate", "cut", "rim", "bore"},
    }


def test_what_the_job_says_goes_before_the_usual_order() -> None:
    job = job_of({"rim": "edge", "bore": "edge", "face": "surface"}, {"rim": ["face"]})
    assert precedence(job) == {"rim": {"bore", "face"}, "bore": frozenset(), "face": {"bore"}}


def test_within_a_kind_only_what_the_job_says() -> None:
    job = job_of({"a": "edge", "b": "edge", "c": "edge"}, {"a": ["b"], "b": ["c"]})
    assert precedence(job) == {"a": {"b", "c"}, "b": {"c"}, "c": frozenset()}


def test_of_usual_pairs_that_contradict_together_the_earlier_stage_is_kept() -> None:
    """Ground after the face is sanded: the edge is still worked after the grinding, so after the face as well."""
    job = job_of({"gate": "removal", "rim": "edge", "face": "surface"}, {"gate": ["face"]})
    assert precedence(job) == {"gate": {"face"}, "rim": {"gate", "face"}, "face": frozenset()}


@given(st.data())
def test_any_job_has_an_order(data: st.DataObject) -> None:
    """What the job says is kept, nothing waits for itself, and what follows from the pairs is in them."""
    kinds = data.draw(st.dictionaries(st.sampled_from("abcdefghij"), st.sampled_from(KINDS), min_size=1))
    names = data.draw(st.permutations(list(kinds)))
    after = {name: data.draw(st.lists(st.sampled_from(names[:place]))) for place, name in enumerate(names) if place}
    before = precedence(job_of(kinds, after))
    for name, firsts in before.items():
        assert set(after.get(name, ())) <= firsts
        assert name not in firsts
        assert all(before[first] <= firsts for first in firsts)


@pytest.mark.parametrize(
    ("gates", "visited"),
    [
        pytest.param('name = "gates"', ["gates", "rim"], id="the usual order"),
        pytest.param('name = "gates"\nafter = ["rim"]', ["rim", "gates"], id="as the job says"),
    ],
)
def test_the_plan_visits_features_in_order(tmp_path: Path, gates: str, visited: list[str]) -> None:
    (tmp_path / "job.toml").write_text(JOB.replace('name = "gates"', gates), encoding="utf-8")
    cycle = make_plan(load_job(tmp_path / "job.toml")).cycle
    assert [stop.feature for stop in cycle.stops] == visited
    assert [stop.change for stop in cycle.stops] == [True, True]
    assert cycle.tool_changes == 2
