"""Which abrasives may run on a rigid spindle, and which features a tool without graded grain can serve."""

from __future__ import annotations

from typing import Any

import pytest

from finishplan import reference
from finishplan.job import load_job
from finishplan.job.suitability import FED_BY_DEPTH, RIGID_FAMILIES, fed_by_depth, kind_of

ON_STIFF = ('rated_speed = "7600 rpm"\nspindle = "soft"', 'rated_speed = "7600 rpm"\nspindle = "stiff"')
WIRE = (
    'family = "flap wheel"\ngrits = ["P240"]',
    'family = "wire brush"',
)


def test_an_edge_takes_a_wheel_on_a_rigid_spindle(sanding_desk: Any) -> None:
    loaded = load_job(sanding_desk.write(cell=[ON_STIFF]))
    assert [one.name for one in loaded.abrasives_for(loaded.job.edge[0])] == ["flap 100"]


def test_surfaces_and_removals_that_take_any_tool_leave_it_out(sanding_desk: Any) -> None:
    any_tool = ('tools = ["fibre 125", "grinder"]\n', "")
    loaded = load_job(sanding_desk.write([any_tool], [ON_STIFF]))
    assert [one.name for one in loaded.abrasives_for(loaded.job.surface[2])] == ["orbital 150", "belt 50"]
    assert [one.name for one in loaded.abrasives_for(loaded.job.removal[0])] == ["belt 50", "fibre 125", "grinder"]


@pytest.mark.parametrize(
    ("tools", "key"),
    [
        ('tools = ["orbital 150", "belt 50"]', 'surface[1].tools[1] (surface "face")'),
        ('tools = ["fibre 125", "grinder"]', 'removal[1].tools[1] (removal "seam")'),
    ],
)
def test_a_surface_or_removal_that_names_it_is_refused(sanding_desk: Any, tools: str, key: str) -> None:
    named = [(tools, 'tools = ["flap 100"]'), ('grits = ["P120", "P180"]\n', "")]
    (fault,) = sanding_desk.faults(job=named, cell=[ON_STIFF])
    assert (fault.key, fault.wanted) == (key, "a tool on a spindle with a compliance device")


@pytest.mark.parametrize("name", reference.names("abrasives"))
def test_only_wheels_and_brushes_that_take_stock_off_are_fed_by_depth(name: str) -> None:
    family = reference.abrasive(name)
    expected = family.tool in FED_BY_DEPTH and name not in {*RIGID_FAMILIES, "wire brush"}
    assert fed_by_depth(family) == expected
    assert fed_by_depth(family) <= (kind_of(family) in {"wheel", "brush"})


def test_a_wire_brush_on_a_rigid_spindle_has_no_force(sanding_desk: Any) -> None:
    (fault,) = sanding_desk.faults(job=[('tools = ["flap 100"]', 'tools = ["belt 50"]')], cell=[WIRE, ON_STIFF])
    assert fault.wanted == "a spindle with a compliance device, for a wire brush is pressed on with a set force"


def test_a_wire_brush_breaks_no_edge(sanding_desk: Any) -> None:
    (fault,) = sanding_desk.faults(cell=[WIRE])
    assert fault.key == 'edge[1].tools[1] (edge "rim")'
    assert fault.wanted == "a tool with graded grain, for any other only refines a surface"


class TestRemovalOfASurface:
    BUFFED = ('tools = ["orbital 150", "belt 50"]', 'tools = ["mop"]')
    DEPTH = ('target_roughness = "0.8 um"', 'target_roughness = "0.8 um"\nremoval = "5 um"')

    def test_a_roughness_may_be_left_to_a_buff_alone(self, sanding_desk: Any) -> None:
        loaded = load_job(sanding_desk.write(job=[self.BUFFED]))
        assert [one.name for one in loaded.abrasives_for(loaded.job.surface[0])] == ["mop"]

    def test_a_depth_may_not(self, sanding_desk: Any) -> None:
        (fault,) = sanding_desk.faults(job=[self.BUFFED, self.DEPTH])
        assert str(fault) == (
            'job.toml:23: surface[1].removal (surface "face"): given "5 um"; wanted no removal, or a tool with graded '
            'grain among its tools, for "mop" takes no depth off'
        )

    def test_a_grit_beside_the_buff_will_do(self, sanding_desk: Any) -> None:
        beside = (self.BUFFED[0], 'tools = ["mop", "belt 50"]')
        assert load_job(sanding_desk.write(job=[beside, self.DEPTH]))
