"""The commands as a user meets them: output, exit codes, files, and one clear message for bad input."""

from __future__ import annotations

import csv
import io
import json
import re
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest

EXAMPLES = Path(__file__).parents[1] / "examples"
PLANS: dict = {}
HEAVY = ("numpy", "scipy", "pydantic", "ezdxf", "rich.table")


def test_help_loads_nothing_heavy() -> None:
    code = f"import finishplan.cli, sys; print([name for name in {HEAVY!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_version(finishplan) -> None:
    assert re.fullmatch(r"finishplan \d+\.\d+\.\d+\n", finishplan("--version").out)


@pytest.fixture
def planned_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Plans a job of the same files once, for tests of what is made of a plan."""
    from finishplan.planning.plan import make_plan

    def made(loaded):
        files = (*loaded.folder.glob("*.toml"), *loaded.folder.glob("*.dxf"))
        key = (loaded.job.model_dump_json(), tuple(sorted((path.name, path.read_bytes()) for path in files)))
        if key not in PLANS:
            PLANS[key] = make_plan(loaded)
        return PLANS[key]

    for module in ("finishplan.planning.plan", "finishplan.planning.derivation"):
        monkeypatch.setattr(f"{module}.make_plan", made)


def test_same_job_gives_the_same_text(finishplan, examples: Path) -> None:
    first, second = (finishplan("plan", "steel_bracket.toml").out for _ in range(2))
    assert first == second


@pytest.mark.usefixtures("planned_once")
class TestPlan:
    def test_exit_code_and_sections(self, finishplan, examples: Path) -> None:
        ran = finishplan("plan", "cast_cover.toml")
        assert ran.code == 0
        assert ran.err == ""
        for section in ("Limits", "Part", "Least equipment", "Assumed", "Cautions", "cycle time"):
            assert section in ran.out
        assert "decide" in ran.out

    @pytest.mark.parametrize("columns", [80, 120])
    def test_no_line_is_wider_than_the_terminal(self, finishplan, examples: Path, columns: int) -> None:
        ran = finishplan("plan", "cast_cover.toml", columns=columns)
        assert max(len(line.rstrip()) for line in ran.out.splitlines()) <= columns

    def test_json_is_one_object_with_units_in_its_keys(self, finishplan, examples: Path) -> None:
        plan = json.loads(finishplan("plan", "cast_cover.toml", "--json").out)
        names = [feature["name"] for feature in plan["features"]]
        assert names == ["flange rim", "pocket", "ports", "seal seat"]
        rim = plan["features"][0]["steps"][0]
        assert {"feed_mm_s", "contact_force_N", "spindle_speed_rpm", "edge_break_mm"} <= rim.keys()
        assert {feature["steps"][0]["mount"] for feature in plan["features"]} == {"force axis", "rigid", "radial head"}
        assert plan["cautions"]

    def test_inch_and_metric_are_the_same_plan(self, finishplan, examples: Path) -> None:
        metric, inch = (
            json.loads(finishplan("plan", "steel_bracket.toml", "--json", "--units", units).out)["features"][0][
                "steps"
            ][0]
            for units in ("metric", "inch")
        )
        assert inch["feed_in_min"] * 25.4 / 60 == pytest.approx(metric["feed_mm_s"], rel=1e-9)
        assert inch["edge_break_in"] * 25.4 == pytest.approx(metric["edge_break_mm"], rel=1e-9)
        assert inch["spindle_speed_rpm"] == metric["spindle_speed_rpm"]

    def test_csv_has_a_line_per_feature(self, finishplan, examples: Path) -> None:
        lines = list(csv.DictReader(io.StringIO(finishplan("plan", "steel_bracket.toml", "--csv").out)))
        assert [line["feature"] for line in lines] == ["sawn outline", "slot", "bores"]
        assert float(lines[0]["feed_mm_s"]) > 0

    def test_csv_defuses_names_that_look_like_formulas(self, finishplan, examples: Path) -> None:
        job = Path("steel_bracket.toml")
        job.write_text(job.read_text().replace('"slot"', '"=2+3"'))
        lines = list(csv.DictReader(io.StringIO(finishplan("plan", str(job), "--csv").out)))
        assert lines[1]["feature"] == "'=2+3"

    def test_markup_in_names_is_printed_as_it_stands(self, finishplan, examples: Path) -> None:
        job = Path("steel_bracket.toml")
        job.write_text(job.read_text().replace('"slot"', '"[red]slot[/bold]"'))
        assert "[red]slot[/bold]" in finishplan("plan", str(job), columns=160).out.replace("\n", "")

    def test_infeasible_job_names_what_is_broken_and_what_frees_it(self, finishplan, examples: Path) -> None:
        job = Path("steel_bracket.toml")
        job.write_text(
            job.read_text().replace('lower = "0.1 mm", upper = "0.6 mm"', 'lower = "0.30 mm", upper = "0.31 mm"')
        )
        ran = finishplan("plan", str(job), "--json")
        assert ran.code == 1
        plan = json.loads(ran.out)
        slot = plan["features"][1]
        assert not plan["feasible"]
        assert slot["verdict"] == "not feasible"
        broken = [limit for limit in slot["steps"][0]["limits"] if limit["utilisation"] > 1]
        assert broken
        assert all(limit["remedy"] for limit in broken)
        assert "would be freed by" in finishplan("plan", str(job)).out

    def test_output_file_is_never_overwritten_unasked(self, finishplan, examples: Path) -> None:
        assert finishplan("plan", "steel_bracket.toml", "-o", "plan.txt").code == 0
        first = Path("plan.txt").read_text()
        assert "sawn outline" in first
        refused = finishplan("plan", "steel_bracket.toml", "--json", "-o", "plan.txt")
        assert refused.code == 2
        assert "plan.txt: exists already" in refused.err
        assert Path("plan.txt").read_text() == first
        assert finishplan("plan", "steel_bracket.toml", "--json", "-o", "plan.txt", "--force").code == 0
        assert json.loads(Path("plan.txt").read_text())["feasible"]
        assert [path.name for path in Path().iterdir() if path.name.startswith(".")] == []

    def test_json_and_csv_together_are_refused(self, finishplan, examples: Path) -> None:
        ran = finishplan("plan", "steel_bracket.toml", "--json", "--csv")
        assert (ran.code, ran.out) == (2, "")


class TestBadInput:
    @pytest.mark.parametrize(
        ("old", "new", "told"),
        [
            ('height = "0.4 mm"', 'height = "0.4 furlong"', ('"0.4 furlong"', "wanted a length", '"0.4 mm"')),
            ('height = "0.4 mm"', 'height = "0,4 mm"', ('"0,4 mm"', 'write "0.4 mm"')),
            ('height = "0.4 mm"', 'height = "nan mm"', ('"nan mm"', "wanted a length")),
            ('height = "0.4 mm"', 'height = "-0.4 mm"', ('"-0.4 mm"',)),
            ("EN AC-46000", "EN AC-46001", ('"EN AC-46001"', '"EN AC-46000"')),
            ("batch = 400", "batches = 400", ("batches", "write batch")),
            ('layer = "RIM"', 'layer = "RIMM"', ('"RIMM"', "RIM (1)", 'write layer = "RIM"')),
            ('drawing = "cast_cover.dxf"', 'drawing = "no.dxf"', ("no.dxf", "no such file")),
            ('file = "finishing_cell.toml"', 'file = "no.toml"', ("no.toml",)),
            ("[job]", "[job", ("cast_cover.toml:3",)),
        ],
    )  # fmt: skip
    def test_one_message_with_place_given_and_wanted(
        self, finishplan, examples: Path, old: str, new: str, told: tuple[str, ...]
    ) -> None:
        job = Path("cast_cover.toml")
        job.write_text(job.read_text().replace(old, new, 1))
        ran = finishplan("plan", str(job))
        assert ran.code == 2
        assert ran.out == ""
        assert "Traceback" not in ran.err
        assert re.search(r"^cast_cover\.toml:\d+", ran.err, re.MULTILINE)
        for part in told:
            assert part in ran.err

    def test_all_faults_at_once(self, finishplan, examples: Path) -> None:
        job = Path("cast_cover.toml")
        text = job.read_text().replace('height = "0.4 mm"', 'height = "0,4 mm"').replace("batch = 400", "batch = 0")
        job.write_text(text.replace("EN AC-46000", "unobtainium"))
        ran = finishplan("check", str(job))
        assert ran.code == 2
        assert "3 faults; nothing was planned or written" in ran.err

    def test_faults_in_the_cell_file_name_the_cell_file(self, finishplan, examples: Path) -> None:
        cell = Path("finishing_cell.toml")
        cell.write_text(cell.read_text().replace('payload = "45 kg"', 'payload = "45"'))
        ran = finishplan("plan", "cast_cover.toml")
        assert ran.code == 2
        assert re.search(r'^finishing_cell\.toml:\d+: .*payload.*given "45".*kg', ran.err, re.MULTILINE)

    @pytest.mark.parametrize("name", ["nonsense.toml", "nonsense.dxf"])
    def test_five_megabytes_of_nonsense(self, finishplan, examples: Path, name: str) -> None:
        Path(name).write_bytes(bytes(range(256)) * 20_000)
        job = Path("cast_cover.toml")
        job.write_text(job.read_text().replace("cast_cover.dxf", "nonsense.dxf"))
        ran = finishplan("plan", name if name.endswith("toml") else str(job))
        assert ran.code == 2
        assert "Traceback" not in ran.err

    def test_missing_file(self, finishplan, tmp_path: Path) -> None:
        ran = finishplan("plan", str(tmp_path / "nowhere.toml"))
        assert ran.code == 2
        assert "nowhere.toml" in ran.err


class TestExamples:
    def test_every_job_plans_with_its_margin_kept(
        self, finishplan, example: str, example_plan, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        made = example_plan(example)
        monkeypatch.setattr("finishplan.planning.plan.make_plan", lambda loaded: made)
        monkeypatch.chdir(EXAMPLES)
        ran = finishplan("plan", example, "--json")
        assert (ran.code, ran.err) == (0, "")
        plan = json.loads(ran.out)
        assert plan["feasible"]
        assert {feature["verdict"] for feature in plan["features"]} == {"keeps the margin"}

    def test_every_job_is_found_faultless(self, finishplan, example: str, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.chdir(EXAMPLES)
        ran = finishplan("check", example)
        assert (ran.code, ran.err) == (0, "")
        assert "no faults found" in ran.out


SIDES = 'length = "900 mm"\nwidth = "500 mm"'
DRAWN = 'drawing = "face.dxf"\nlayer = "FACE"\nholes_layer = "HOLES"'
TARGET = 'target_roughness = "0.9 um"'
SQUARE = [(0, 0), (500, 0), (500, 500), (0, 500)]
CROSSED = [(0, 0), (500, 500), (500, 0), (0, 500)]
ASIDE = [(600, 0), (650, 0), (650, 50)]
SMALL = [(0, 0), (60, 0), (60, 60), (0, 60)]
HOLE = [(200, 200), (250, 200), (250, 250)]


class TestBadSurfaces:
    """What stands in the painted panel, what replaces it, the line told, and what is said."""

    @pytest.mark.parametrize(
        ("old", "new", "line", "told"),
        [
            (TARGET, 'target_roughness = "2 um"', "target_roughness", ('given "2 um"', "no rougher than the start")),
            ('removal = "8 um"', 'removal = "90 um"', "removal", ('given "90 um"', "less than the whole layer")),
            ('layer_keep = "30 um"', 'layer_keep = "60 um"', "layer_keep", ('given "60 um"', "at its thinnest")),
            (TARGET, f'{TARGET}\ngrits = ["P170"]', "grits", ('given "P170"', 'write "P180"')),
            (TARGET, f'{TARGET}\ngrits = ["P36"]', "tools", ("one of the grits allowed",)),
            ('width = "500 mm"', 'width = "100 mm"', "tools", ("a pad no larger than the shorter side", "100 mm")),
            (SIDES, 'area = "36 cm2"', "[[surface]]", ("a pad of 150 mm", "a pad that fits inside")),
            ('overhang = "0 %"', 'overhang = "50 %"', "overhang", ('given "50 %"', "less than 50 %")),
            ('"industrial primer"', '"industrial prime"', "coating", ('"industrial primer"',)),
            ("removal =", "removals =", "removals", ("write removal",)),
        ],
    )
    def test_the_place_and_what_is_wanted(
        self, finishplan, examples: Path, old: str, new: str, line: str, told: tuple[str, ...]
    ) -> None:
        job = Path("painted_panel.toml")
        text = job.read_text()
        assert text.count(old) == 1
        job.write_text(text.replace(old, new))
        self.refused(finishplan, line, told)

    @pytest.mark.parametrize(
        ("outline", "hole", "told"),
        [
            (CROSSED, HOLE, ("an outline that crosses itself at (250, 250) mm",)),
            (SQUARE, ASIDE, ("a hole at (600, 0) mm outside every outline",)),
            (SQUARE, [(450, 100), (550, 100), (550, 200)], ("two outlines that cross or touch at",)),
            (SMALL, [(20, 20), (25, 20), (25, 25)], ("a pad of 150 mm", "a pad that fits inside")),
        ],
    )
    def test_drawings_are_told_at_the_line_of_their_layer(
        self, finishplan, examples: Path, outline: list, hole: list, told: tuple[str, ...]
    ) -> None:
        drawing = ezdxf.new(units=4)
        for layer, points in (("FACE", outline), ("HOLES", hole)):
            drawing.layers.add(layer)
            drawing.modelspace().add_lwpolyline(points, close=True, dxfattribs={"layer": layer})
        drawing.saveas("face.dxf")
        job = Path("painted_panel.toml")
        job.write_text(job.read_text().replace(SIDES, DRAWN))
        self.refused(finishplan, 'layer = "FACE"', ("drawing face.dxf", *told))

    def refused(self, finishplan, line: str, told: tuple[str, ...]) -> None:
        ran = finishplan("plan", "painted_panel.toml")
        assert (ran.code, ran.out) == (2, "")
        assert "Traceback" not in ran.err
        first, *_, last = ran.err.splitlines()
        place = re.match(r"painted_panel\.toml:(\d+): surface", first)
        assert place, first
        assert Path("painted_panel.toml").read_text().splitlines()[int(place[1]) - 1].startswith(line)
        for part in told:
            assert part in ran.err
        assert re.fullmatch(r"\d+ faults?; nothing was planned or written", last)

    def test_tools_that_are_carried_rigidly_are_told_where_a_force_is_needed(self, finishplan, examples: Path) -> None:
        cell = Path("sanding_cell.toml")
        head, _, tail = cell.read_text().partition('name = "belt drive"')
        cell.write_text(f'{head}name = "belt drive"{tail.replace("compliance = ", "# compliance = ", 1)}')
        ran = finishplan("plan", "gated_housing.toml")
        assert ran.code == 2
        assert "Traceback" not in ran.err
        assert "a spindle with a compliance device" in ran.err


@pytest.mark.usefixtures("planned_once")
class TestGeometry:
    def test_every_drawn_feature_with_what_was_read(self, finishplan, examples: Path) -> None:
        ran = finishplan("geometry", "stainless_cover.toml", columns=140)
        assert ran.code == 0
        (line,) = (line for line in ran.out.splitlines() if line.startswith("top"))
        assert re.search(r"top +1 +0\.\d+ m2 +- +- +1$", line.rstrip())

    def test_waypoints_of_a_feature_as_csv(self, finishplan, examples: Path) -> None:
        ran = finishplan("geometry", "hardwood_seat.toml", "seat", "--spacing", "20 mm")
        assert (ran.code, ran.err) == (0, "")
        lines = list(csv.DictReader(io.StringIO(ran.out)))
        assert len(lines) > 100
        assert {line["z_mm"] for line in lines} == {"0"}

    def test_into_a_file_and_in_inches(self, finishplan, examples: Path) -> None:
        ran = finishplan("geometry", "steel_bracket.toml", "slot", "--units", "inch", "-o", "slot.csv")
        assert (ran.code, ran.out, ran.err) == (0, "", "wrote slot.csv\n")
        assert "x_in" in Path("slot.csv").read_text().splitlines()[0]
        assert finishplan("geometry", "steel_bracket.toml", "slot", "-o", "slot.csv").code == 2

    @pytest.mark.parametrize(
        ("arguments", "told"),
        [
            (("steel_bracket.toml", "slott"), "write 'slot'"),
            (("gated_housing.toml", "gates"), "a feature read from a drawing"),
        ],
    )
    def test_what_has_no_waypoints(self, finishplan, examples: Path, arguments: tuple[str, ...], told: str) -> None:
        ran = finishplan("geometry", *arguments)
        assert ran.code == 2
        assert told in ran.err
        assert "Traceback" not in ran.err

    @pytest.mark.parametrize(
        "spacing",
        [
            "5",
            "far",
            "0 mm",
            "-1 mm",
        ],
    )
    def test_a_spacing_that_is_none(self, finishplan, examples: Path, spacing: str) -> None:
        ran = finishplan("geometry", "steel_bracket.toml", "slot", "--spacing", spacing)
        assert ran.code == 2
        assert "Traceback" not in ran.err


@pytest.mark.usefixtures("planned_once")
class TestExplain:
    def test_every_value_says_where_it_is_from(self, finishplan, examples: Path) -> None:
        ran = finishplan("explain", "cast_cover.toml", "ports", "contact force")
        assert ran.code == 0
        assert "finishing_cell.toml:" in ran.out
        assert "workpieces.EN AC-46000.kc11" in ran.out.replace("\n", "") or "kc11" in ran.out
        assert "step 1" in ran.out

    def test_force_explained_is_the_force_planned(self, finishplan, examples: Path) -> None:
        plan = json.loads(finishplan("plan", "cast_cover.toml", "--json").out)
        steps = json.loads(finishplan("explain", "cast_cover.toml", "ports", "contact force", "--json").out)["steps"]
        assert steps[-1]["quantity"] == "normal force"
        assert steps[-1]["result"][0] == pytest.approx(plan["features"][2]["steps"][0]["contact_force_N"], rel=1e-9)

    @pytest.mark.parametrize(
        ("arguments", "told"),
        [(("porst",), "wanted one of flange rim"), (("ports", "contct force"), "write 'contact force'")],
    )
    def test_unknown_names_are_answered_with_the_known(
        self, finishplan, examples: Path, arguments: tuple[str, ...], told: str
    ) -> None:
        ran = finishplan("explain", "cast_cover.toml", *arguments)
        assert ran.code == 2
        assert told in ran.err


class TestCompare:
    def test_both_arrangements_side_by_side(self, finishplan, examples: Path) -> None:
        ran = finishplan("compare", "carried_bracket.toml", "--arrangement")
        assert ran.code == 0
        for text in ("tool to part", "part to tool", "cycle time", "only part to tool is feasible"):
            assert text in ran.out

    def test_json_has_a_plan_per_robot(self, finishplan, examples: Path) -> None:
        ran = finishplan("compare", "carried_bracket.toml", "--robot", "--json")
        plans = json.loads(ran.out)["plans"]
        assert list(plans) == ["this robot", "twice as stiff", "half the path error", "both"]
        assert {"name": "verdict", "verdict": "planned"} in plans["both"]

    def test_what_the_job_lacks_for_it(self, finishplan, examples: Path) -> None:
        ran = finishplan("compare", "steel_bracket.toml", "--arrangement")
        assert ran.code == 2
        assert "finishing_cell.toml:1: holding: wanted the gripper" in ran.err

    @pytest.mark.parametrize("options", [(), ("--arrangement", "--robot")])
    def test_one_comparison_at_a_time(self, finishplan, examples: Path, options: tuple[str, ...]) -> None:
        assert finishplan("compare", "steel_bracket.toml", *options).code == 2


class TestData:
    def test_lists_tables_and_entries(self, finishplan) -> None:
        assert "workpieces" in finishplan("data").out
        assert "42CrMo4" in finishplan("data", "workpieces").out

    def test_shows_source_band_and_grade(self, finishplan) -> None:
        shown = finishplan("data", "workpieces", "42CrMo4", columns=160).out
        assert re.search(r"kc11 +2500 +2120 to 2880 +N/mm2 +tabellenbuch-metall.* +published", shown)

    def test_figures_survive_the_way_through_si(self, finishplan) -> None:
        figures = json.loads(finishplan("data", "workpieces", "42CrMo4", "--json").out)["figures"]
        kc11 = next(figure for figure in figures if figure["path"].endswith("kc11"))
        assert (kc11["value"], kc11["unit"]) == (2500, "N/mm2")

    @pytest.mark.parametrize("arguments", [("workpiece",), ("workpieces", "42CrMo5"), ("sources", "nobody")])
    def test_a_miss_is_answered_with_what_there_is(self, finishplan, arguments: tuple[str, ...]) -> None:
        ran = finishplan("data", *arguments)
        assert ran.code == 2
        assert ran.err.count("\n") == 1


class TestNew:
    @pytest.mark.parametrize("units", ["metric", "inch"])
    def test_starter_plans_as_it_stands(self, finishplan, tmp_path: Path, units: str) -> None:
        job = tmp_path / "starter.toml"
        assert finishplan("new", str(job), "--units", units).code == 0
        ran = finishplan("plan", str(job), "--json")
        assert ran.code == 0
        assert json.loads(ran.out)["features"][0]["verdict"] == "keeps the margin"

    @pytest.mark.parametrize("units", ["metric", "inch"])
    @pytest.mark.parametrize(
        ("process", "section", "step"), [("sanding", "surface", "surface"), ("trimming", "contour", "contour trimming")]
    )
    def test_starter_of_a_process_plans_as_it_stands(
        self, finishplan, tmp_path: Path, process: str, section: str, step: str, units: str
    ) -> None:
        job = tmp_path / "starter.toml"
        assert finishplan("new", str(job), "--process", process, "--units", units).code == 0
        assert f"[[{section}]]" in job.read_text()
        ran = finishplan("plan", str(job), "--json")
        assert ran.code == 0
        plan = json.loads(ran.out)
        assert plan["units"] == units
        assert {feature["verdict"] for feature in plan["features"]} == {"keeps the margin"}
        assert {each["process"] for feature in plan["features"] for each in feature["steps"]} == {step}

    def test_never_overwrites_unasked(self, finishplan, tmp_path: Path) -> None:
        job = tmp_path / "starter.toml"
        job.write_text("mine")
        assert finishplan("new", str(job)).code == 2
        assert job.read_text() == "mine"


@pytest.mark.parametrize("kind", ["job", "cell"])
def test_schema_is_json(finishplan, kind: str) -> None:
    schema = json.loads(finishplan("schema", kind).out)
    assert schema["type"] == "object"
    assert schema["additionalProperties"] is False
