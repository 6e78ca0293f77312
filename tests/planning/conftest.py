"""A small job by lengths alone, with lines to change one at a time, and its plan."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from finishplan.job import LoadedJob, load_job
from finishplan.planning.edge_feature import edge_features
from finishplan.planning.plan import Plan, make_plan
from finishplan.planning.search import Found
from finishplan.planning.together import answered

JOB = """\
[job]
title = "bracket"
batch = 50
margin = "20 %"

[part]
material = "EN AC-46000"

[cell]
file = "cell.toml"

[[edge]]
name = "rim"
length = "900 mm"
included_angle = "90 deg"
tools = ["burr 10"]
burr = { height = "0.4 mm", height_scatter = "0.2 mm", root_thickness = "0.12 mm" }
edge_break = { lower = "0.3 mm", upper = "1.0 mm" }
waviness = { amplitude = "0.3 mm", wavelength = "60 mm" }

[[edge]]
name = "bore"
length = "310 mm"
tools = ["burr 10"]
burr = { height = "0.2 mm", root_thickness = "0.08 mm" }
edge_break = { lower = "0.2 mm", upper = "0.9 mm" }
"""

CELL = """\
title = "cell of one force axis, one head and one rigid spindle"
tool_change_time = "6 s"

[robot]
kind = "articulated"
payload = "45 kg"
path_accuracy = "0.15 mm"
stiffness = "800 N/mm"
top_speed = "1 m/s"
acceleration = "3 m/s2"
normal_acceleration = "2 m/s2"

[error_budget]
part = "0.25 mm"
fixture = "0.1 mm"
tool_point = "0.11 mm"
wear = "0.05 mm"

[[spindle]]
name = "servo spindle"
speed_min = "6000 rpm"
speed_max = "30000 rpm"
mass = "2.5 kg"
compliance = "force axis"
curve = [
  { speed = "6000 rpm", power = "200 W" },
  { speed = "15000 rpm", power = "500 W" },
  { speed = "30000 rpm", power = "500 W" },
]

[[spindle]]
name = "air spindle"
speed_min = "18000 rpm"
speed_max = "40000 rpm"
mass = "0.8 kg"
compliance = "radial head"
curve = [
  { speed = "18000 rpm", power = "230 W" },
  { speed = "40000 rpm", power = "150 W" },
]

[[spindle]]
name = "motor spindle"
speed_min = "3000 rpm"
speed_max = "24000 rpm"
mass = "6 kg"
curve = [
  { speed = "3000 rpm", power = "250 W" },
  { speed = "24000 rpm", power = "1000 W" },
]

[[compliance]]
name = "force axis"
kind = "force-controlled"
force_min = "2.7 N"
force_max = "120 N"
stroke = "20 mm"
moving_mass = "1.1 kg"
mass = "5 kg"
friction_band = "0.6 N"
stiffness = "2000 N/m"
bandwidth = "20 Hz"

[[compliance]]
name = "radial head"
kind = "radial"
force_min = "3 N"
force_max = "40 N"
stroke = "14 mm"
moving_mass = "0.8 kg"
mass = "2.2 kg"
stiffness = "300 N/m"
friction_band = "1.6 N"

[[tool]]
name = "burr 10"
family = "carbide burr double cut"
diameter = "10 mm"
teeth = 16
overhang = "30 mm"
shank_diameter = "6 mm"
rated_speed = "40000 rpm"
spindle = "servo spindle"

[[tool]]
name = "burr 8"
family = "carbide burr aluminium cut"
diameter = "8 mm"
teeth = 8
overhang = "30 mm"
shank_diameter = "6 mm"
rated_speed = "50000 rpm"
spindle = "air spindle"

[[tool]]
name = "mill 10"
family = "carbide chamfer mill"
diameter = "10 mm"
teeth = 4
overhang = "25 mm"
rated_speed = "40000 rpm"
spindle = "motor spindle"
"""

Edit = tuple[str, str]
Load = Callable[..., LoadedJob]

EXAMPLES = Path(__file__).parents[2] / "examples"


def changed(text: str, edits: Sequence[Edit]) -> str:
    """The text with lines replaced; each old line stands in it just once."""
    for old, new in edits:
        assert text.count(old) == 1, f"{old!r} must stand once in the text"
        text = text.replace(old, new)
    return text


def load_changed(folder: Path, job: Sequence[Edit] = (), cell: Sequence[Edit] = ()) -> LoadedJob:
    (folder / "job.toml").write_text(changed(JOB, job), encoding="utf-8")
    (folder / "cell.toml").write_text(changed(CELL, cell), encoding="utf-8")
    return load_job(folder / "job.toml")


@pytest.fixture
def load(tmp_path: Path) -> Load:
    """Loads the job with some lines of its two files changed."""
    return lambda job=(), cell=(): load_changed(tmp_path, job, cell)


def search_edge(loaded: LoadedJob, edge: int, tool: int, margin: float) -> Found:
    only = loaded.job.edge[edge].model_copy(update={"tools": [loaded.cell.tool[tool].name]})
    edges = [only if index == edge else other for index, other in enumerate(loaded.job.edge)]
    loaded = replace(loaded, job=loaded.job.model_copy(update={"edge": edges}))
    (option,) = answered(edge_features(loaded)[edge].options(), margin)
    (step,) = option.steps
    return step.found


@pytest.fixture
def searched() -> Callable[..., Found]:
    """What the search finds for one edge of a job under one tool of its cell, both by number."""
    return lambda loaded, edge=0, tool=0, margin=0.2: search_edge(loaded, edge, tool, margin)


@pytest.fixture(scope="session")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The plan of the job as it stands."""
    return make_plan(load_changed(tmp_path_factory.mktemp("plan")))


@pytest.fixture(scope="session")
def drawn_plan() -> Plan:
    """The plan of an example whose edges are drawn."""
    return make_plan(load_job(EXAMPLES / "cast_cover.toml"))


SANDING = """\
[job]
title = "panel"
batch = 20
margin = "20 %"

[part]
material = "S235JR"

[cell]
file = "sanding_cell.toml"

[[surface]]
name = "face"
length = "600 mm"
width = "400 mm"
initial_roughness = "3 um"
target_roughness = "1.2 um"
overhang = "25 %"
tools = ["orbital 150"]
"""

SANDING_CELL = """\
title = "sanding cell"
tool_change_time = "8 s"

[robot]
kind = "articulated"
payload = "35 kg"
path_accuracy = "0.3 mm"
top_speed = "0.6 m/s"
acceleration = "3 m/s2"
normal_acceleration = "2 m/s2"

[[spindle]]
name = "orbital motor"
speed_min = "4000 rpm"
speed_max = "12000 rpm"
mass = "1.6 kg"
curve = [{ speed = "4000 rpm", power = "120 W" }, { speed = "12000 rpm", power = "350 W" }]
compliance = "force axis"

[[spindle]]
name = "belt drive"
speed_min = "1000 rpm"
speed_max = "6000 rpm"
mass = "6 kg"
curve = [{ speed = "1000 rpm", power = "500 W" }, { speed = "6000 rpm", power = "1800 W" }]
compliance = "force axis"

[[spindle]]
name = "grinder"
speed_min = "2000 rpm"
speed_max = "9000 rpm"
mass = "3 kg"
curve = [{ speed = "2000 rpm", power = "300 W" }, { speed = "9000 rpm", power = "900 W" }]

[[compliance]]
name = "force axis"
kind = "force-controlled"
force_min = "8 N"
force_max = "200 N"
stroke = "35 mm"
moving_mass = "3 kg"
mass = "6 kg"
friction_band = "1 N"
stiffness = "200 N/m"
bandwidth = "12 Hz"

[[abrasive]]
name = "orbital 150"
family = "orbital disc"
grits = ["P80", "P120", "P180"]
diameter = "150 mm"
orbit = "5 mm"
backing = "medium foam pad"
rated_speed = "15000 rpm"
spindle = "orbital motor"
change_time = "15 s"
price = 0.6

[[abrasive]]
name = "belt 50"
family = "coated belt"
grits = ["P80", "P120"]
diameter = "120 mm"
width = "50 mm"
backing = "medium contact wheel"
rated_speed = "7000 rpm"
spindle = "belt drive"
price = 9.0

[[abrasive]]
name = "stone"
family = "bonded wheel"
grits = ["F46"]
diameter = "100 mm"
width = "20 mm"
rated_speed = "9000 rpm"
spindle = "grinder"
"""


def load_sanding(folder: Path, job: Sequence[Edit] = (), cell: Sequence[Edit] = (), more: str = "") -> LoadedJob:
    (folder / "sanding.toml").write_text(changed(SANDING, job) + more, encoding="utf-8")
    (folder / "sanding_cell.toml").write_text(changed(SANDING_CELL, cell), encoding="utf-8")
    return load_job(folder / "sanding.toml")


@pytest.fixture
def sanding(tmp_path: Path) -> Load:
    """Loads the sanding job with lines changed, or with further features."""
    return lambda job=(), cell=(), more="": load_sanding(tmp_path, job, cell, more)


@pytest.fixture(scope="module")
def panel(tmp_path_factory: pytest.TempPathFactory) -> LoadedJob:
    """The sanding job as it stands."""
    return load_sanding(tmp_path_factory.mktemp("panel"))
