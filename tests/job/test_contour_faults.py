"""Contours of a job: what they are read as, which cutters they get, and what is said about their faults."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from finishplan.errors import Fault
from finishplan.job import LoadedJob, load_job

JOB = """\
[job]
title = "fender"

[part]
material = "GFRP"

[cell]
file = "cell.toml"

[[contour]]
name = "rim"
length = "2400 mm"
thickness = "4 mm"
tolerance = "0.5 mm"
direction = "climb"
fibre_angle = "45 deg"
tabs = { count = 4, width = "6 mm", height = "1 mm" }
part_error = "0.1 mm"
tools = ["router 8"]

[[contour]]
name = "flange"
length = "300 mm"
thickness = "3 mm"
stock = "2 mm"
tolerance = "±0.4 mm"
waviness = { amplitude = "0.5 mm", wavelength = "200 mm" }
"""

CELL = """\
title = "cell"

[robot]
kind = "articulated"
payload = "120 kg"
stiffness_directions = { first = "900 N/mm", second = "1400 N/mm", angle = "35 deg" }

[[spindle]]
name = "stiff"
speed_min = "6000 rpm"
speed_max = "24000 rpm"
mass = "12 kg"
curve = [{ speed = "12000 rpm", power = "3000 W" }]

[[spindle]]
name = "soft"
speed_min = "6000 rpm"
speed_max = "30000 rpm"
mass = "2 kg"
compliance = "axis"
curve = [{ speed = "12000 rpm", power = "600 W" }]

[[compliance]]
name = "axis"
kind = "radial"
force_min = "5 N"
force_max = "60 N"
stroke = "8 mm"
moving_mass = "1 kg"
mass = "3 kg"

[[tool]]
name = "router 8"
family = "diamond router"
diameter = "8 mm"
teeth = 2
overhang = "30 mm"
cutting_length = "20 mm"
rated_speed = "24000 rpm"
spindle = "stiff"

[[tool]]
name = "mill 6"
family = "carbide end mill"
diameter = "6 mm"
teeth = 2
overhang = "25 mm"
rated_speed = "24000 rpm"
spindle = "stiff"

[[tool]]
name = "burr 6"
family = "carbide burr composite cut"
diameter = "6 mm"
teeth = 8
overhang = "25 mm"
rated_speed = "30000 rpm"
spindle = "soft"

[[tool]]
name = "chamfer 10"
family = "carbide chamfer mill"
diameter = "10 mm"
teeth = 4
overhang = "25 mm"
rated_speed = "24000 rpm"
spindle = "stiff"
"""

Edit = tuple[str, str]
LoadFaults = Callable[[Path], list[Fault]]


def written(folder: Path, job: Sequence[Edit] = (), cell: Sequence[Edit] = ()) -> Path:
    for name, text, edits in (("job.toml", JOB, job), ("cell.toml", CELL, cell)):
        for old, new in edits:
            assert text.count(old) == 1, f"{old!r} must stand once in the text"
            text = text.replace(old, new)
        (folder / name).write_text(text, encoding="utf-8")
    return folder / "job.toml"


@pytest.fixture
def loaded(tmp_path: Path) -> LoadedJob:
    return load_job(written(tmp_path))


def test_a_good_contour_is_read_into_si_units(loaded: LoadedJob) -> None:
    rim, flange = loaded.job.contour
    assert (rim.length, rim.thickness, rim.tolerance) == pytest.approx((2.4, 4e-3, 0.5e-3))
    assert (rim.stock, rim.direction, rim.fibre_angle) == (None, "climb", pytest.approx(math.pi / 4))
    assert rim.tabs is not None
    assert (rim.tabs.count, rim.tabs.width, rim.tabs.height) == (4, pytest.approx(6e-3), pytest.approx(1e-3))
    assert (flange.stock, flange.tolerance, flange.direction) == (
        pytest.approx(2e-3),
        pytest.approx(0.4e-3),
        "conventional",
    )
    directions = loaded.cell.robot.stiffness_directions
    assert directions is not None
    assert (directions.first, directions.second) == pytest.approx((9e5, 1.4e6))
    assert loaded.cell.tool[0].cutting_length == pytest.approx(20e-3)


def test_cutters_that_trim_on_a_rigid_spindle_are_taken(loaded: LoadedJob) -> None:
    rim, flange = loaded.job.contour
    assert [tool.name for tool in loaded.tools_for(rim)] == ["router 8"]
    assert [tool.name for tool in loaded.tools_for(flange)] == ["router 8", "mill 6"]
    assert loaded.abrasives_for(flange) == []


def test_a_burr_trims_as_well_once_nothing_yields(tmp_path: Path) -> None:
    path = written(tmp_path, cell=[('compliance = "axis"\n', "")])
    flange = load_job(path).job.contour[1]
    assert [tool.name for tool in load_job(path).tools_for(flange)] == ["router 8", "mill 6", "burr 6"]


FAULTS = [
    pytest.param(
        ('tools = ["router 8"]', 'tools = ["burr 6"]'), "contour[1].tools[1]", 'given "burr 6"; wanted a tool on a '
        "spindle without a compliance device", id="compliant spindle",
    ),
    pytest.param(
        ('tools = ["router 8"]', 'tools = ["chamfer 10"]'), "contour[1].tools[1]",
        'given "chamfer 10"; wanted a router, end mill, burr, saw blade, cut-off wheel or grit router',
        id="no trimming cutter",
    ),
    pytest.param(
        ('tools = ["router 8"]', 'tools = ["ruter 8"]'), "contour[1].tools[1]", 'write "router 8"', id="unknown tool",
    ),
    pytest.param(('name = "flange"', 'name = "rim"'), "contour[2].name", "a name that no other", id="name twice"),
    pytest.param(('"0.5 mm"\ndirection', '"0 mm"\ndirection'), "contour[1].tolerance", "above 0", id="no tolerance"),
    pytest.param(
        ('width = "6 mm", height = "1 mm"', 'width = "6 mm", height = "9 mm"'), "contour[1].tabs",
        'no higher than the thickness ("4 mm")', id="tabs too high",
    ),
    pytest.param(
        ('direction = "climb"', 'direction = "climb"\nstock = "3 mm"'), "contour[1].tabs", "only in a full slot",
        id="tabs without a slot",
    ),
    pytest.param(('direction = "climb"', 'direction = "down"'), "contour[1].direction", "conventional", id="direction"),
    pytest.param(
        ('"GFRP"', '"MDF"'), "contour[1].fibre_angle", "no fibre angle, for MDF is no laminate", id="no fibres",
    ),
    pytest.param(
        ('length = "300 mm"\n', ""), "contour[2].length", "a length, or a drawing with its layer", id="no path",
    ),
    pytest.param(('thickness = "3 mm"\n', ""), "contour[2].thickness", "wanted this key: thickness", id="no thickness"),
    pytest.param(('count = 4', 'count = 0'), "contour[1].tabs.count", "given 0", id="no tabs"),
]  # fmt: skip


@pytest.mark.parametrize(("edit", "key", "told"), FAULTS)
def test_a_fault_is_placed_and_told(tmp_path: Path, load_faults: LoadFaults, edit: Edit, key: str, told: str) -> None:
    (fault,) = load_faults(written(tmp_path, job=[edit]))
    assert fault.key.split(" ")[0] == key
    assert told in str(fault)


@pytest.mark.parametrize(
    ("edit", "key", "told"),
    [
        pytest.param(
            ('cutting_length = "20 mm"', 'cutting_length = "40 mm"'), "tool[1].cutting_length",
            'within the overhang ("30 mm")', id="longer than the tool",
        ),
        pytest.param(('angle = "35 deg"', 'angle = "200 deg"'), "robot.stiffness_directions.angle", "less than 180 deg",
                     id="direction beyond half a turn"),
    ],
)  # fmt: skip
def test_a_fault_in_the_cell(tmp_path: Path, load_faults: LoadFaults, edit: Edit, key: str, told: str) -> None:
    (fault,) = load_faults(written(tmp_path, cell=[edit]))
    assert fault.key.split(" ")[0] == key
    assert told in str(fault)


def test_a_contour_left_without_a_rigid_spindle_says_so(tmp_path: Path, load_faults: LoadFaults) -> None:
    soft = ('mass = "12 kg"\n', 'mass = "12 kg"\ncompliance = "axis"\n')
    faults = load_faults(written(tmp_path, job=[('tools = ["router 8"]\n', "")], cell=[soft]))
    assert [fault.given for fault in faults] == ["none of its tools", "none of its tools"]
    assert {fault.wanted for fault in faults} == {"a tool on a spindle without a compliance device, in the cell"}
