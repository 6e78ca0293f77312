"""Jobs without faults to spoil one line at a time, and what loading says about the result."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from finishplan.errors import Fault, JobError
from finishplan.job.loading import load_job

JOB = """\
[job]
title = "housing"
batch = 200
margin = "20 %"

[part]
material = "EN AC-46000"
cutting_force_factor = 1.1

[cell]
file = "cell.toml"

[[edge]]
name = "rim"
length = "850 mm"
included_angle = "90 deg"
tools = ["burr 8"]
[edge.burr]
height = "0.4 mm"
root_thickness = "0.1 mm"
height_scatter = "0.2 mm"
[edge.edge_break]
lower = "0.2 mm"
upper = "0.6 mm"

[[edge]]
name = "bore"
drawing = "housing.dxf"
layer = "BORE"
burr = { height = "0.2 mm", root_thickness = "0.1 mm" }
edge_break = { measure = "radius", lower = "0.1 mm", upper = "0.4 mm" }
"""

CELL = """\
title = "cell 1"

[robot]
kind = "articulated"
payload = "20 kg"

[[spindle]]
name = "A"
speed_min = "10000 rpm"
speed_max = "40000 rpm"
curve = [
  { speed = "10000 rpm", power = "300 W" },
  { speed = "40000 rpm", power = "900 W" },
]
mass = "2 kg"
compliance = "arm"

[[compliance]]
name = "arm"
kind = "force-controlled"
force_min = "5 N"
force_max = "60 N"
stroke = "8 mm"
moving_mass = "2.5 kg"
mass = "3 kg"
bandwidth = "10 Hz"

[[tool]]
name = "burr 8"
family = "carbide burr aluminium cut"
diameter = "8 mm"
teeth = 10
overhang = "30 mm"
rated_speed = "45000 rpm"
spindle = "A"
shank_diameter = "6 mm"
edge_radius = "0.01 mm"
"""

SANDING_JOB = """\
[job]
title = "cover"

[part]
material = "X5CrNi18-10"

[cell]
file = "cell.toml"

[[edge]]
name = "rim"
length = "850 mm"
tools = ["flap 100"]
burr = { height = "0.2 mm", root_thickness = "0.1 mm" }
edge_break = { lower = "0.1 mm", upper = "0.4 mm" }

[[surface]]
name = "face"
length = "600 mm"
width = "400 mm"
initial_roughness = "2.5 um"
target_roughness = "0.8 um"
grits = ["P120", "P180"]
tools = ["orbital 150", "belt 50"]
overhang = "20 %"
direction = "45 deg"

[[surface]]
name = "hood"
drawing = "hood.dxf"
layer = "HOOD"
holes_layer = "HOLES"
coating = "clearcoat"
layer_thickness = "45 um"
layer_thickness_scatter = "10 um"
layer_keep = "25 um"
removal = "4 um"

[[surface]]
name = "spot"
area = "20 cm2"
coating = "basecoat"
layer_keep = "5 um"
removal = "2 um"

[[removal]]
name = "seam"
kind = "weld bead"
height = "2 mm"
width = "6 mm"
length = "120 mm"
left = "0.2 mm"
height_scatter = "0.5 mm"
tools = ["fibre 125", "grinder"]
"""

SANDING_CELL = """\
title = "cell 2"
robot = { kind = "articulated", payload = "20 kg" }
currency = "USD"

[[spindle]]
name = "soft"
speed_min = "1000 rpm"
speed_max = "12000 rpm"
curve = [{ speed = "12000 rpm", power = "500 W" }]
mass = "2 kg"
compliance = "axis"

[[spindle]]
name = "stiff"
speed_min = "1000 rpm"
speed_max = "12000 rpm"
curve = [{ speed = "12000 rpm", power = "900 W" }]
mass = "3 kg"

[[compliance]]
name = "axis"
kind = "force-controlled"
force_min = "5 N"
force_max = "100 N"
stroke = "35 mm"
moving_mass = "2.5 kg"
mass = "3 kg"
bandwidth = "10 Hz"

[[abrasive]]
name = "orbital 150"
family = "orbital disc"
grits = ["P120", "P180", "P1500"]
diameter = "150 mm"
backing = "medium foam pad"
orbit = "5 mm"
rated_speed = "12000 rpm"
spindle = "soft"
change_time = "20 s"
price = 0.8

[[abrasive]]
name = "belt 50"
family = "coated belt"
grits = ["P60", "P120"]
diameter = "200 mm"
width = "50 mm"
backing = "soft contact wheel"
rated_speed = "4000 rpm"
spindle = "soft"

[[abrasive]]
name = "fibre 125"
family = "fibre disc"
grits = ["P36", "P80"]
diameter = "125 mm"
tilt = "12 deg"
rated_speed = "12200 rpm"
spindle = "soft"

[[abrasive]]
name = "flap 100"
family = "flap wheel"
grits = ["P240"]
diameter = "100 mm"
width = "30 mm"
rated_speed = "7600 rpm"
spindle = "soft"

[[abrasive]]
name = "mop"
family = "buff"
diameter = "200 mm"
width = "40 mm"
rated_speed = "4000 rpm"
spindle = "soft"

[[abrasive]]
name = "grinder"
family = "bonded wheel"
grits = ["F46"]
diameter = "115 mm"
width = "6 mm"
rated_speed = "12000 rpm"
spindle = "stiff"
"""

Edit = tuple[str, str]


class Desk:
    """Writes a job and its cell with some lines changed, and loads them."""

    def __init__(self, folder: Path, job: str, cell: str) -> None:
        self.job, self.cell = job, cell
        self.folder = folder
        self.job_path = folder / "job.toml"

    def write(self, job: Sequence[Edit] = (), cell: Sequence[Edit] = ()) -> Path:
        self.job_path.write_text(changed(self.job, job), encoding="utf-8")
        (self.folder / "cell.toml").write_text(changed(self.cell, cell), encoding="utf-8")
        return self.job_path

    def faults(self, job: Sequence[Edit] = (), cell: Sequence[Edit] = ()) -> list[Fault]:
        return faults_of(self.write(job, cell))


def changed(text: str, edits: Sequence[Edit]) -> str:
    for old, new in edits:
        assert text.count(old) == 1, f"{old!r} must stand once in the text"
        text = text.replace(old, new)
    return text


def faults_of(path: Path) -> list[Fault]:
    with pytest.raises(JobError) as caught:
        load_job(path)
    return list(caught.value.faults)


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.chdir(tmp_path)
    return Desk(Path(), JOB, CELL)


@pytest.fixture
def sanding_desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    monkeypatch.chdir(tmp_path)
    return Desk(Path(), SANDING_JOB, SANDING_CELL)


@pytest.fixture
def load_faults() -> Callable[[Path], list[Fault]]:
    return faults_of
