"""Loading a job and its cell: what comes out of good files, and what is said about unreadable ones."""

from __future__ import annotations

import math
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from finishplan import reference
from finishplan.errors import Fault, JobError
from finishplan.job import Place, Robot, load_job

LoadFaults = Callable[[Path], list[Fault]]


def test_a_good_job_is_read_into_si_units(desk: Any) -> None:
    loaded = load_job(desk.write())
    rim, bore = loaded.job.edge
    assert loaded.folder == desk.folder
    assert rim.length == pytest.approx(0.85)
    assert rim.included_angle == pytest.approx(math.pi / 2)
    assert (rim.burr.height, rim.burr.height_scatter) == pytest.approx((0.4e-3, 0.2e-3))
    assert bore.edge_break.measure == "radius"
    assert loaded.job.job.margin == pytest.approx(0.2)
    assert [point.speed for point in loaded.cell.spindle[0].curve] == pytest.approx([10000 / 60, 40000 / 60])
    assert loaded.cell.tool[0].rated_speed == pytest.approx(750)
    assert loaded.cell.robot.payload == 20


def test_a_good_sanding_job_is_read_into_si_units(sanding_desk: Any) -> None:
    loaded = load_job(sanding_desk.write())
    face, hood, spot = loaded.job.surface
    assert (face.initial_roughness, face.target_roughness) == pytest.approx((2.5e-6, 0.8e-6))
    assert (face.overhang, face.direction, face.cross_hatch) == (pytest.approx(0.2), pytest.approx(math.pi / 4), False)
    assert (hood.layer_thickness, hood.layer_keep, hood.removal) == pytest.approx((45e-6, 25e-6, 4e-6))
    assert (spot.area, spot.target_roughness, spot.grits) == (pytest.approx(2e-3), None, None)
    (seam,) = loaded.job.removal
    assert (seam.count, seam.section, seam.left) == (1, "rectangular", pytest.approx(0.2e-3))
    orbital, belt = loaded.cell.abrasive[:2]
    assert (orbital.orbit, orbital.rated_speed, orbital.change_time) == pytest.approx((5e-3, 200, 20))
    assert (orbital.price, belt.price, belt.width) == (0.8, None, pytest.approx(0.05))
    assert (loaded.cell.currency, loaded.cell.tool) == ("USD", [])
    assert loaded.where("surface", 1, "removal") == ("job.toml", 37)
    assert loaded.where("cell", "abrasive", 1, "width") == ("cell.toml", 47)


def test_every_value_has_a_place(desk: Any) -> None:
    loaded = load_job(desk.write())
    assert loaded.where("edge", 1, "burr", "height") == Place("job.toml", 30)
    assert loaded.where("edge", 0, "waviness") == ("job.toml", 13)
    assert loaded.where("cell", "file") == ("job.toml", 11)
    assert loaded.where("cell") == ("job.toml", 10)
    assert loaded.where("cell", "spindle", 0, "curve", 1, "power") == ("cell.toml", 13)


def test_a_cell_may_stand_in_the_job_file(desk: Any) -> None:
    inline = """[cell]
title = "inline"
robot = { kind = "delta", payload = "3 kg" }
spindle = [{ name = "S", speed_min = "9000 rpm", speed_max = "30000 rpm", mass = "1 kg", \
curve = [{ speed = "20000 rpm", power = "200 W" }] }]
[[cell.tool]]
name = "burr 8"
family = "carbide end mill"
diameter = "8 mm"
teeth = 3
overhang = "20 mm"
rated_speed = "30000 rpm"
spindle = "S"
"""
    path = desk.write(job=[('[cell]\nfile = "cell.toml"\n', inline)])
    loaded = load_job(path)
    assert loaded.cell.title == "inline"
    assert loaded.cell.compliance == []
    assert loaded.where("cell", "tool", 0, "teeth") == ("job.toml", 18)

    path.write_text(path.read_text().replace('spindle = "S"', 'spindle = "T"').replace('"delta"', "3"))
    with pytest.raises(JobError) as caught:
        load_job(path)
    assert [(fault.line, fault.key) for fault in caught.value.faults] == [
        (12, "cell.robot.kind"),
        (21, 'cell.tool[1].spindle (tool "burr 8")'),
    ]


def test_faults_of_both_files_come_together_in_the_order_of_their_lines(desk: Any) -> None:
    faults = desk.faults(
        job=[
            ('title = "housing"', "titel = 3"),
            ('tools = ["burr 8"]', 'tools = ["burr", "mill"]'),
            ('"0.4 mm"\nroot', '"x"\nroot'),
        ],
        cell=[("teeth = 10", 'teeth = "ten"'), ('spindle = "A"', 'spindle = "a"')],
    )
    assert [(fault.file, fault.line) for fault in faults] == [
        ("job.toml", 1),
        ("job.toml", 2),
        ("job.toml", 17),
        ("job.toml", 17),
        ("job.toml", 19),
        ("cell.toml", 32),
        ("cell.toml", 35),
    ]
    assert faults[2].column < faults[3].column
    assert faults[1].write == "title"
    assert faults[6].write == '"A"'


def test_a_missing_cell_file_hides_no_other_fault(desk: Any) -> None:
    faults = desk.faults(job=[('"cell.toml"', '"away.toml"'), ("batch = 200", "batch = -1")])
    assert [(fault.line, fault.given) for fault in faults] == [(3, "-1"), (11, '"away.toml"')]


def test_file_names_are_shown_as_written(desk: Any) -> None:
    desk.write(cell=[("teeth = 10", "teeth = 0")])
    (desk.folder / "below").mkdir()
    desk.write(job=[('"cell.toml"', '"./below/../cell.toml"')], cell=[("teeth = 10", "teeth = 0")])
    with pytest.raises(JobError, match=r"^\./below/\.\./cell\.toml:32: tool\[1\]\.teeth"):
        load_job("job.toml")
    desk.write(job=[("batch = 200", "batch = 0")])
    with pytest.raises(JobError, match=r"^\./job\.toml:3: job\.batch"):
        load_job("./job.toml")


@pytest.mark.parametrize(
    "edit",
    [
        ('speed = "10000 rpm", power', 'speed = "9000 rpm", power'),
        ('speed = "40000 rpm", power', 'speed = "30000 rpm", power'),
        ('{ speed = "40000 rpm", power = "900 W" },', ""),
        ('speed_max = "40000 rpm"', 'speed_max = "45000 rpm"'),
        ('bandwidth = "10 Hz"', 'bandwidth = "10 Hz"\nstiffness = "0.5 N/mm"'),
        ('family = "carbide burr aluminium cut"', 'family = "Carbide End Mill"'),
    ],
)
def test_accepted_cells(desk: Any, edit: tuple[str, str]) -> None:
    assert load_job(desk.write(cell=[edit])).cell.title == "cell 1"


@pytest.mark.parametrize(
    "edit",
    [
        (
            'height = "0.4 mm"\nroot_thickness = "0.1 mm"\nheight_scatter = "0.2 mm"',
            'height = "0 mm"\nroot_thickness = "0 mm"',
        ),
        ('height_scatter = "0.2 mm"', 'height_scatter = "+/- 0.4 mm"'),
        ('lower = "0.2 mm"', 'lower = "0 mm"'),
        ('material = "EN AC-46000"', 'material = "en aw-6082"'),
        ('tools = ["burr 8"]\n', ""),
        ('layer = "BORE"', 'layer = "BORE"\ndrawing_unit = "in"'),
        ("batch = 200\n", ""),
    ],
)
def test_accepted_jobs(desk: Any, edit: tuple[str, str]) -> None:
    assert len(load_job(desk.write(job=[edit])).job.edge) == 2


@pytest.mark.parametrize(
    "edit",
    [
        (
            'direction = "45 deg"',
            'direction = "0 deg"\ncross_hatch = true\nunevenness = "40 %"\npart_error = "±0.5 mm"',
        ),
        ('target_roughness = "0.8 um"', 'target_roughness = "2.5 um"'),
        ('target_roughness = "0.8 um"', 'target_roughness = "32 uin"'),
        ('target_roughness = "0.8 um"', 'removal = "0.001 um"'),
        ('holes_layer = "HOLES"', 'drawing_unit = "in"'),
        ('layer_keep = "25 um"', 'layer_keep = "0 um"\nwaviness = { amplitude = "0.2 mm", wavelength = "300 mm" }'),
        ('layer_keep = "5 um"', 'layer_thickness = "80 um"\nlayer_keep = "60 um"'),
        ('left = "0.2 mm"', 'left = "0 mm"\ncount = 4\nsection = "segment"'),
        ('material = "X5CrNi18-10"', 'material = "X5CrNi18-10"\nremoval_factor = 0.8'),
    ],
)
def test_accepted_sanding_jobs(sanding_desk: Any, edit: tuple[str, str]) -> None:
    assert len(load_job(sanding_desk.write(job=[edit])).job.surface) == 3


def test_the_break_of_a_blunt_edge_has_shorter_legs(desk: Any) -> None:
    # A round of radius r between faces at the angle theta ends r / tan(theta / 2) from the corner.
    radius = (
        '{ measure = "radius", lower = "0.1 mm", upper = "0.4 mm" }',
        '{ measure = "radius", lower = "0.1 mm", upper = "6 mm" }',
    )
    (fault,) = desk.faults(job=[radius])
    assert fault.wanted.endswith("the largest tool allowed, 4 mm")
    assert load_job(desk.write(job=[radius, ('layer = "BORE"', 'layer = "BORE"\nincluded_angle = "120 deg"')]))


WOOD_ROUTER = """
[[tool]]
name = "router"
family = "diamond router"
diameter = "8 mm"
teeth = 2
overhang = "30 mm"
rated_speed = "40000 rpm"
spindle = "A"
"""


def test_a_tool_for_other_materials_may_stand_in_the_cell_but_not_at_the_edge(desk: Any) -> None:
    router = ('edge_radius = "0.01 mm"\n', 'edge_radius = "0.01 mm"\n' + WOOD_ROUTER)
    loaded = load_job(desk.write(cell=[router]))
    assert [[tool.name for tool in loaded.tools_for(edge)] for edge in loaded.job.edge] == [["burr 8"], ["burr 8"]]

    (fault,) = desk.faults(job=[('tools = ["burr 8"]', 'tools = ["burr 8", "router"]')], cell=[router])
    assert str(fault) == (
        'job.toml:17: edge[1].tools[2] (edge "rim"): '
        'given "router"; wanted a tool whose family has a window for aluminium'
    )


def test_a_cell_without_any_tool_for_the_material(desk: Any) -> None:
    faults = desk.faults(
        job=[('tools = ["burr 8"]\n', "")], cell=[('"carbide burr aluminium cut"', '"diamond router"')]
    )
    assert [(fault.key, fault.given) for fault in faults] == [
        ('edge[1] (edge "rim")', "none of its tools"),
        ('edge[2] (edge "bore")', "none of its tools"),
    ]


def test_robot_kinds_are_those_of_the_reference_tables() -> None:
    kinds = Robot.model_json_schema()["properties"]["kind"]["enum"]
    assert sorted(kinds) == sorted(reference.names("robots"))


def only_fault(path: Path, content: bytes, load_faults: LoadFaults) -> str:
    path.write_bytes(content)
    (fault,) = load_faults(path)
    return str(fault)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"a = 1\nb = '\xe9'\n", "job.toml:2: given the byte 0xe9; wanted text saved as UTF-8"),
        ("a = 'x'".encode("utf-16"), "job.toml:1: given the byte 0xff; wanted text saved as UTF-8"),
        (b"# \xf0\x9f" + b"nonsense" * 700_000, "job.toml: given 5.6 MB; wanted a file of at most 2 MB"),
        (
            b"\na = '" + b"x" * 10_000 + b"'\n",
            "job.toml:2: given one of 10006; wanted lines of at most 10000 characters",
        ),
        (b"a = " + b"[\n" * 1500 + b"]" * 1500, "job.toml: wanted lists and tables nested a few levels deep"),
        (
            b"a = " + b"9" * 5000,
            "job.toml: given a number of thousands of digits; wanted whole numbers of fewer digits",
        ),
        (b"a = 'x\0'", "job.toml:1: given \"a = 'x\\x00'\"; wanted text without control characters"),
    ],
)
def test_unreadable_files(desk: Any, load_faults: LoadFaults, content: bytes, message: str) -> None:
    assert only_fault(desk.job_path, content, load_faults).startswith(message)


def test_files_that_are_no_files(desk: Any, load_faults: LoadFaults) -> None:
    os.mkfifo("pipe")
    assert [str(load_faults(Path(name))[0]) for name in ("absent.toml", ".", "pipe", "a\0b", "x" * 300)] == [
        "absent.toml: wanted the name of a file that exists",
        ".: given a folder; wanted a TOML file",
        "pipe: given a device; wanted a TOML file",
        "a\0b: wanted a file that can be read (embedded null byte)",
        f"{'x' * 300}: wanted a file that can be read (File name too long)",
    ]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-8"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_byte_order_mark_and_line_ends_do_no_harm(desk: Any, encoding: str, line_end: str) -> None:
    text = desk.write().read_text()
    desk.job_path.write_bytes(text.replace("\n", line_end).encode(encoding))
    assert load_job(desk.job_path).where("edge", 1, "layer") == ("job.toml", 29)


@pytest.mark.parametrize(
    ("text", "line", "column", "wanted", "write"),
    [
        ("[job]\nheight = 0.4 mm # tall\n", 2, 13, "nothing more on the line; text with a unit", 'height = "0.4 mm"'),
        ("[job]\ntitle = housing\n", 2, 9, "a value: text in double quotes", 'title = "housing"'),
        ("[job]\nspeed = 12 000\n", 2, 11, "nothing more on the line", 'speed = "12 000"'),
        ("a", 1, 2, "'=' between key and value", ""),
        ("a = [1\nb = 2", 2, 1, "a closing ] or a comma", ""),
        ("a = { x = 1\n}", 1, 12, "a closing } or a comma between the keys", ""),
        ('a = "x\nb = 2', 1, 7, "text in quotes on one line", ""),
        ('a = "x', 1, 7, "closing quotes", ""),
        ("a = '''x", 1, 9, "closing quotes", ""),
        ("a = 'x", 1, 7, "closing quotes", ""),
        ('a = "C:\\parts"', 1, 9, "\\\\ for a backslash, or the text in single quotes", ""),
        ('a = "\\uzz"', 1, 8, "hexadecimal digits", ""),
        ("a = 1\na = 2\n", 2, 6, "each key once in its table", ""),
        ("[job]\n[job]\n", 2, 5, "each table once", ""),
        ("a = { b = 1 }\n[a.c]\n", 2, 5, "each table", ""),
        ("a = { b = 1, b = 2 }", 1, 19, "each key once", ""),
        ("[a\nb = 1", 1, 3, "a closing bracket at the end of the table header", ""),
        ("? = 1", 1, 1, "a line such as key", ""),
        ("a.? = 1", 1, 3, "a key of letters, digits", ""),
        ("d = 2023-02-30\n", 1, 5, "a date that exists", 'd = "2023-02-30"'),
    ],
)  # fmt: skip
def test_syntax(desk: Any, load_faults: LoadFaults, text: str, line: int, column: int, wanted: str, write: str) -> None:
    desk.job_path.write_text(text)
    (fault,) = load_faults(desk.job_path)
    assert (fault.file, fault.line) == ("job.toml", line)
    assert fault.wanted.startswith(wanted)
    assert fault.write == write
    assert abs(fault.column - column) <= 1  # where a parser notices differs by one between Python versions


def test_syntax_fault_of_the_cell_carries_its_file(desk: Any) -> None:
    (fault,) = desk.faults(cell=[("teeth = 10", "teeth = ten")])
    assert str(fault).startswith('cell.toml:32: given "teeth = ten"; wanted a value')


def test_an_empty_file_lacks_every_table(desk: Any, load_faults: LoadFaults) -> None:
    desk.job_path.write_text("")
    assert [(fault.line, fault.key, fault.write) for fault in load_faults(desk.job_path)] == [
        (1, "job", "[job] with title"),
        (1, "part", "[part] with material"),
        (1, "cell", "[cell] with title, robot, spindle"),
        (1, "removal", "[[edge]], [[surface]], [[contour]] or [[removal]]"),
    ]


def test_a_fault_beside_deep_nesting_is_still_placed(desk: Any, load_faults: LoadFaults) -> None:
    desk.job_path.write_text("x = 1\ny = " + "[" * 300 + "]" * 300 + "\n")
    assert [fault.line for fault in load_faults(desk.job_path) if fault.key == "y"] == [2]


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(content=st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "ignore")))
def test_any_content_is_answered_by_faults(desk: Any, load_faults: LoadFaults, content: bytes) -> None:
    desk.job_path.write_bytes(content)
    assert load_faults(desk.job_path)


VALUES = st.sampled_from(
    ["1", "-1.5", "nan", "true", '""', '"x"', '"1 mm"', '"1e400 N"', '"20 kg"', '"-3 rpm"', "[]", "[{}]", "{}", "[[1]]",
     "{ a = 1 }", "1979-05-27", "0xffff", '"{title}"', "[1, {}]"]
)  # fmt: skip


@pytest.mark.parametrize("fixture", ["desk", "sanding_desk"])
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_value_anywhere_is_accepted_or_answered_by_faults_of_its_line(
    request: pytest.FixtureRequest, fixture: str, data: st.DataObject
) -> None:
    desk = request.getfixturevalue(fixture)
    desk.write()
    name = data.draw(st.sampled_from(["job.toml", "cell.toml"]))
    lines = (desk.folder / name).read_text().splitlines()
    numbers = [i for i, line in enumerate(lines) if " = " in line and not line.startswith(("curve", " ", "}", "]"))]
    number = data.draw(st.sampled_from(numbers))
    lines[number] = lines[number].split(" = ")[0] + " = " + data.draw(VALUES)
    (desk.folder / name).write_text("\n".join(lines))
    assert all(fault.wanted and fault.line for fault in faults_if_any(desk.job_path))


def faults_if_any(path: Path) -> tuple[Fault, ...]:
    try:
        load_job(path)
    except JobError as error:
        return error.faults or (Fault(path.name, "", ""),)
    return ()
