"""Plan a mixed job of many features, and search the same features one by one.

Run ``python tests/benchmarks/bench_plan.py``. It prints how long the plan takes and the ratio to the
reference, in which no feature shares an evaluation with another; it is no part of the test run. First no two
features are alike, then they come in families.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from finishplan.job import LoadedJob, load_job
from finishplan.planning.plan import all_features, make_plan
from finishplan.planning.together import answered

CELL = """\
title = "mixed cell"
tool_change_time = "6 s"

[robot]
kind = "articulated"
payload = "45 kg"
path_accuracy = "0.08 mm"
stiffness = "800 N/mm"
top_speed = "1 m/s"

[[spindle]]
name = "router spindle"
speed_min = "6000 rpm"
speed_max = "24000 rpm"
mass = "9 kg"
curve = [{ speed = "6000 rpm", power = "1000 W" }, { speed = "24000 rpm", power = "2500 W" }]

[[spindle]]
name = "servo spindle"
speed_min = "6000 rpm"
speed_max = "30000 rpm"
mass = "2.5 kg"
curve = [{ speed = "6000 rpm", power = "200 W" }, { speed = "30000 rpm", power = "900 W" }]
compliance = "force axis"

[[spindle]]
name = "orbital motor"
speed_min = "4000 rpm"
speed_max = "12000 rpm"
mass = "1.6 kg"
curve = [{ speed = "4000 rpm", power = "120 W" }, { speed = "12000 rpm", power = "350 W" }]
compliance = "force axis"

[[compliance]]
name = "force axis"
kind = "force-controlled"
force_min = "6 N"
force_max = "120 N"
stroke = "20 mm"
moving_mass = "3.2 kg"
mass = "5 kg"
friction_band = "0.6 N"
stiffness = "500 N/m"
bandwidth = "20 Hz"

[[tool]]
name = "end mill 10"
family = "carbide end mill"
diameter = "10 mm"
teeth = 2
overhang = "25 mm"
rated_speed = "30000 rpm"
spindle = "router spindle"

[[tool]]
name = "burr 8"
family = "carbide burr aluminium cut"
diameter = "8 mm"
teeth = 8
overhang = "30 mm"
shank_diameter = "6 mm"
rated_speed = "50000 rpm"
spindle = "servo spindle"

[[abrasive]]
name = "orbital 150"
family = "orbital disc"
grits = ["P80", "P120", "P180", "P240"]
diameter = "150 mm"
orbit = "5 mm"
backing = "medium foam pad"
rated_speed = "15000 rpm"
spindle = "orbital motor"
"""

HEAD = """\
[job]
title = "mixed part"

[part]
material = "EN AW-6082"

[cell]
file = "cell.toml"
"""

EDGE = """
[[edge]]
name = "edge {number}"
length = "{length:.1f} mm"
burr = {{ height = "{height:.3f} mm", root_thickness = "{root:.3f} mm" }}
edge_break = {{ lower = "{lower:.3f} mm", upper = "{upper:.3f} mm" }}
"""

CONTOUR = """
[[contour]]
name = "contour {number}"
length = "{length:.1f} mm"
thickness = "{thickness:.2f} mm"
stock = "{stock:.2f} mm"
tolerance = "{tolerance:.3f} mm"
"""

SURFACE = """
[[surface]]
name = "surface {number}"
length = "{length:.1f} mm"
width = "{width:.1f} mm"
initial_roughness = "{initial:.2f} um"
target_roughness = "{target:.2f} um"
"""

MARGIN = 0.2
SHARES = {EDGE: 0.6, CONTOUR: 0.2, SURFACE: 0.2}


def draw(count: int, families: int) -> list[str]:
    """Sections of features from a fixed seed; as many different ones as there are families."""
    random = np.random.default_rng(5)

    def figures() -> dict[str, float]:
        height, lower = random.uniform(0.1, 0.4), random.uniform(0.15, 0.35)
        return {
            "height": height,
            "root": 0.4 * height,
            "lower": lower,
            "upper": lower + random.uniform(0.5, 0.8),
            "thickness": random.uniform(1.5, 4.0),
            "stock": random.uniform(1.0, 3.0),
            "tolerance": random.uniform(0.5, 1.0),
            "initial": random.uniform(2.0, 4.0),
            "target": random.uniform(1.2, 1.6),
        }

    drawn = [figures() for _ in range(families)]
    kinds = [kind for kind, share in SHARES.items() for _ in range(round(share * count))]
    return [
        kind.format(
            number=number, length=random.uniform(200, 900), width=random.uniform(200, 400), **drawn[number % families]
        )
        for number, kind in enumerate(kinds)
    ]


def load(sections: list[str], folder: Path) -> LoadedJob:
    (folder / "cell.toml").write_text(CELL)
    (folder / "job.toml").write_text(HEAD + "".join(sections))
    return load_job(folder / "job.toml")


def main(count: int = 200) -> None:
    with tempfile.TemporaryDirectory() as place:
        for families in (count, 10):
            loaded = load(draw(count, families), Path(place))
            start = time.perf_counter()
            make_plan(loaded)
            planned = time.perf_counter() - start
            start = time.perf_counter()
            for feature in all_features(loaded):
                answered(feature.options(), MARGIN)
            alone = time.perf_counter() - start
            print(
                f"{count} features of {families} families planned in {planned:.1f} s; "
                f"searched one by one {alone:.1f} s, ratio {alone / planned:.1f}"
            )


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
