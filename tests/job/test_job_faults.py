"""Every kind of fault a job file can hold: what is said about it, and where."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from pydantic import ValidationError

from finishplan.job.faults import faults_of
from finishplan.job.fields import Section
from finishplan.job.source import Portion, Source

# What stands in the file, what replaces it, how the message starts, and what it says to write.
FAULTS = [
    (
        'height = "0.4 mm"',
        'height = "0,4 mm"',
        'job.toml:19: edge[1].burr.height (edge "rim"): given "0,4 mm"; wanted a length in mm, um',
        '"0.4 mm"',
    ),
    (
        'height = "0.4 mm"',
        "height = 0.4",
        'job.toml:19: edge[1].burr.height (edge "rim"): given 0.4; wanted a length as text with its unit',
        '"0.4 mm"',
    ),
    (
        'height = "0.4 mm"',
        "height = nan",
        'job.toml:19: edge[1].burr.height (edge "rim"): given nan; wanted a length as text with its unit',
        '"0.4 mm"',
    ),
    (
        'height = "0.4 mm"',
        "height = true",
        'job.toml:19: edge[1].burr.height (edge "rim"): given true; wanted a length as text',
        '"0.4 mm"',
    ),
    (
        'height = "0.4 mm"',
        "height = [1, 2]",
        'job.toml:19: edge[1].burr.height (edge "rim"): given a list of 2; wanted a length as text',
        '"0.4 mm"',
    ),
    (
        'height = "0.4 mm"',
        'height = "-0.4 mm"',
        'job.toml:19: edge[1].burr.height (edge "rim"): given "-0.4 mm"; wanted a length of at least 0 mm',
        '"0.4 mm"',
    ),
    (
        'height = "0.4 mm"',
        "",
        'job.toml:18: edge[1].burr.height (edge "rim"): wanted this key: mean height',
        'height = "0.4 mm"',
    ),
    (
        'height = "0.4 mm"',
        'heigth = "0.4 mm"\nheight = "0.4 mm"',
        'job.toml:19: edge[1].burr.heigth (edge "rim"): given "0.4 mm"; wanted one of the keys height, root_thickness',
        "",
    ),
    (
        'height_scatter = "0.2 mm"',
        'height_spread = "0.2 mm"',
        'job.toml:21: edge[1].burr.height_spread (edge "rim"): given "0.2 mm"; wanted one of the keys height,',
        "height_scatter",
    ),
    (
        'height_scatter = "0.2 mm"',
        'height_scatter = "± 0.5 mm"',
        'job.toml:21: edge[1].burr.height_scatter (edge "rim"): '
        'given "± 0.5 mm"; wanted at most the height itself ("0.4 mm")',
        "",
    ),
    (
        'height_scatter = "0.2 mm"',
        'height_scatter = "-0.2 mm"',
        'job.toml:21: edge[1].burr.height_scatter (edge "rim"): '
        'given "-0.2 mm"; wanted half of a symmetric tolerance, not negative',
        '"0.2 mm"',
    ),
    (
        'height = "0.4 mm"\nroot_thickness = "0.1 mm"',
        'height = "0.4 mm"\nroot_thickness = "0 mm"',
        'job.toml:20: edge[1].burr.root_thickness (edge "rim"): '
        'given "0 mm"; wanted a root thickness above 0 under a burr of height "0.4 mm"',
        "",
    ),
    (
        'upper = "0.6 mm"',
        'upper = "0.1 mm"',
        'job.toml:24: edge[1].edge_break.upper (edge "rim"): '
        'given "0.1 mm"; wanted an upper limit above lower ("0.2 mm")',
        "",
    ),
    (
        'upper = "0.6 mm"',
        'upper = "0.2 in"',
        'job.toml:24: edge[1].edge_break.upper (edge "rim"): '
        'given "0.2 in"; wanted legs shorter than the radius of the largest tool allowed, 0.15748 in',
        "",
    ),
    (
        'included_angle = "90 deg"',
        'included_angle = "180 deg"',
        'job.toml:16: edge[1].included_angle (edge "rim"): '
        'given "180 deg"; wanted an angle of more than 0 deg and less than 180 deg',
        '"90 deg"',
    ),
    (
        'included_angle = "90 deg"',
        'included_angle = "4 rad"',
        'job.toml:16: edge[1].included_angle (edge "rim"): '
        'given "4 rad"; wanted an angle of more than 0 rad and less than 3.14159 rad',
        '"90 deg"',
    ),
    (
        'length = "850 mm"',
        "",
        'job.toml:13: edge[1].length (edge "rim"): wanted a length, or a drawing with its layer',
        'length = "850 mm"',
    ),
    (
        'layer = "BORE"',
        'layer = "BORE"\nlength = "1 m"',
        'job.toml:30: edge[2].length (edge "bore"): '
        'given "1 m"; wanted either a drawing with its layer or a length, not both',
        "",
    ),
    (
        'layer = "BORE"',
        "",
        'job.toml:26: edge[2].layer (edge "bore"): wanted the layer of "housing.dxf" with this edge',
        'layer = "RIM"',
    ),
    (
        'drawing = "housing.dxf"',
        'length = "20 mm"',
        'job.toml:29: edge[2].layer (edge "bore"): given "BORE"; wanted a layer only with its drawing',
        'drawing = "housing.dxf"',
    ),
    (
        'length = "850 mm"',
        'length = "850 mm"\ndrawing_unit = "mm"',
        'job.toml:16: edge[1].drawing_unit (edge "rim"): given "mm"; wanted a drawing unit only with a drawing',
        "",
    ),
    (
        'name = "bore"',
        'name = "rim"',
        'job.toml:27: edge[2].name (edge "rim"): given "rim"; '
        "wanted a name that no other edge, surface, contour or removal has",
        "",
    ),
    ('name = "bore"', 'name = ""', 'job.toml:27: edge[2].name: given ""; wanted text that is not empty', '"rim"'),
    (
        'name = "bore"',
        "name = 1979-05-27",
        "job.toml:27: edge[2].name: given 1979-05-27; wanted text in double quotes",
        '"rim"',
    ),
    (
        'name = "bore"',
        'name = "a\\u001b[31m"',
        'job.toml:27: edge[2].name (edge "a\\x1b[31m"): '
        'given "a\\x1b[31m"; wanted text on one line without control characters',
        "",
    ),
    (
        'title = "housing"',
        f'title = "{"x" * 90}"',
        "job.toml:2: job.title: "
        'given "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx..."; wanted text of at most 80 '
        "characters",
        "",
    ),
    (
        'tools = ["burr 8"]',
        'tools = ["bur 8"]',
        'job.toml:17: edge[1].tools[1] (edge "rim"): given "bur 8"; wanted a tool of the cell: "burr 8"',
        '"burr 8"',
    ),
    (
        'tools = ["burr 8"]',
        "tools = []",
        'job.toml:17: edge[1].tools (edge "rim"): given a list of 0; wanted at least one entry',
        'tools = ["cutter 6"]',
    ),
    (
        'tools = ["burr 8"]',
        'tools = "burr 8"',
        'job.toml:17: edge[1].tools (edge "rim"): given "burr 8"; wanted a list',
        'tools = ["cutter 6"]',
    ),
    (
        'material = "EN AC-46000"',
        'material = "EN AC-4600"',
        'job.toml:7: part.material: given "EN AC-4600"; wanted a material of the reference tables:',
        '"EN AC-46000"',
    ),
    (
        "cutting_force_factor = 1.1",
        "cutting_force_factor = inf",
        "job.toml:8: part.cutting_force_factor: given inf; wanted a finite number",
        "1.1",
    ),
    (
        "cutting_force_factor = 1.1",
        "cutting_force_factor = 0",
        "job.toml:8: part.cutting_force_factor: given 0; wanted a number above 0",
        "1.1",
    ),
    (
        "cutting_force_factor = 1.1",
        "cutting_force_factor = 7",
        "job.toml:8: part.cutting_force_factor: given 7; wanted a number of at most 5",
        "1.1",
    ),
    (
        "cutting_force_factor = 1.1",
        'cutting_force_factor = "1"',
        'job.toml:8: part.cutting_force_factor: given "1"; wanted a number',
        "1.1",
    ),
    ("batch = 200", "batch = 0", "job.toml:3: job.batch: given 0; wanted a number of at least 1", "500"),
    ("batch = 200", "batch = 2.5", "job.toml:3: job.batch: given 2.5; wanted a whole number", "500"),
    ("batch = 200", "batch = true", "job.toml:3: job.batch: given true; wanted a whole number", "500"),
    (
        "batch = 200",
        f"batch = {10**70}",
        "job.toml:3: job.batch: given a number of 71 digits; wanted a number of at most 1000000000",
        "500",
    ),
    (
        "batch = 200",
        f"batch = 0x{'f' * 5000}",
        "job.toml:3: job.batch: given a number of thousands of digits; wanted a number of at most 1000000000",
        "500",
    ),
    (
        'margin = "20 %"',
        'margin = "100 %"',
        'job.toml:4: job.margin: given "100 %"; wanted a fraction of at least 0 % and less than 100 %',
        '"20 %"',
    ),
    (
        'title = "housing"',
        "",
        "job.toml:1: job.title: wanted this key: what the job is called",
        'title = "housing, outer edges"',
    ),
    (
        'title = "housing"',
        'title = "housing"\nunits = "imperial"',
        'job.toml:3: job.units: given "imperial"; wanted one of "metric", "inch"',
        '"metric"',
    ),
    (
        "[part]",
        "[part]\n'odd key' = 1",
        'job.toml:7: part."odd key": given 1; wanted one of the keys material, cutting_force_factor',
        "",
    ),
    ("[job]", "[[job]]", "job.toml:1: job: given a list of 1; wanted a table", "[job] with title"),
    (
        '[cell]\nfile = "cell.toml"',
        "[cell]\nfile = 3",
        "job.toml:11: cell.file: given 3; wanted text in double quotes",
        '"cell.toml"',
    ),
    (
        '[cell]\nfile = "cell.toml"',
        "[cell]\nfile = 'cell.toml'\ntitle = 'x'",
        'job.toml:12: cell.title: given "x"; wanted one of the keys file',
        "",
    ),
    (
        '[cell]\nfile = "cell.toml"',
        "[cell]\nfile = 'no.toml'",
        'job.toml:11: cell.file: given "no.toml"; wanted the name of a file that exists',
        "",
    ),
    (
        '[cell]\nfile = "cell.toml"',
        "[cell]\nfile = '.'",
        'job.toml:11: cell.file: given ".", a folder; wanted a TOML file',
        "",
    ),
    (
        '[cell]\nfile = "cell.toml"',
        '[cell]\nfile = "a\\u0000b"',
        'job.toml:11: cell.file: given "a\\x00b"; wanted text on one line without control characters',
        "",
    ),
]


@pytest.mark.parametrize(("old", "new", "start", "write"), FAULTS)
def test_fault_in_job_file(desk: Any, old: str, new: str, start: str, write: str) -> None:
    (fault,) = desk.faults(job=[(old, new)])
    assert str(fault).startswith(start)
    assert fault.write == write


class Delivery(Section):
    """A table with a kind of value that no job has so far."""

    on: date


def test_a_fault_without_words_of_its_own_keeps_those_of_the_validation_library() -> None:
    text = 'on = "yes"\n'
    with pytest.raises(ValidationError) as caught:
        Delivery.model_validate({"on": "yes"})
    (fault,) = faults_of(caught.value, Portion(Source("a.toml", text, {"on": "yes"})), Delivery)
    assert str(fault) == 'a.toml:1: on: given "yes"; wanted input should be a valid date'
