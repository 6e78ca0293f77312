"""Every kind of fault surfaces, and the tools they name, can hold: what is said about it, and where."""

from __future__ import annotations

from typing import Any

import pytest

# What stands in the file, what replaces it, where the message says it is, what it says, and what it says to write.
FAULTS = [
    (
        'tools = ["flap 100"]',
        'tools = ["flaps 100"]',
        'job.toml:13: edge[1].tools[1] (edge "rim")',
        'given "flaps 100"; wanted a tool of the cell: "orbital 150", "belt 50", "fibre 125", "flap '
        '100", "mop", "grinder"',
        '"flap 100"',
    ),
    (
        'tools = ["flap 100"]',
        'tools = ["orbital 150"]',
        'job.toml:13: edge[1].tools[1] (edge "rim")',
        'given "orbital 150"; wanted a cutter, belt, wheel or brush',
        "",
    ),
    (
        'tools = ["orbital 150", "belt 50"]',
        'tools = ["orbital 15"]',
        'job.toml:24: surface[1].tools[1] (surface "face")',
        'given "orbital 15"; wanted an abrasive of the cell: "orbital 150", "belt 50", "fibre 125", '
        '"flap 100", "mop", "grinder"',
        '"orbital 150"',
    ),
    (
        'tools = ["orbital 150", "belt 50"]',
        'tools = ["grinder"]',
        'job.toml:24: surface[1].tools[1] (surface "face")',
        'given "grinder"; wanted a belt, disc, orbital, wheel, brush or buff',
        "",
    ),
    (
        'tools = ["orbital 150", "belt 50"]',
        'tools = ["fibre 125"]',
        'job.toml:24: surface[1].tools[1] (surface "face")',
        'given "fibre 125"; wanted a tool with one of the grits allowed, "P120", "P180"',
        "",
    ),
    (
        'tools = ["orbital 150", "belt 50"]',
        "tools = []",
        'job.toml:24: surface[1].tools (surface "face")',
        "given a list of 0; wanted at least one entry",
        'tools = ["orbital 150"]',
    ),
    (
        'layer_keep = "25 um"',
        'layer_keep = "25 um"\ntools = ["belt 50"]',
        'job.toml:37: surface[2].tools[1] (surface "hood")',
        'given "belt 50"; wanted a tool whose family has a window for clearcoat',
        "",
    ),
    (
        'width = "400 mm"',
        'width = "100 mm"',
        'job.toml:24: surface[1].tools[1] (surface "face")',
        'given "orbital 150"; wanted a pad no larger than the shorter side of the surface, 100 mm',
        "",
    ),
    (
        'width = "400 mm"',
        'width = "4 in"',
        'job.toml:24: surface[1].tools[1] (surface "face")',
        'given "orbital 150"; wanted a pad no larger than the shorter side of the surface, 4 in',
        "",
    ),
    (
        'grits = ["P120", "P180"]',
        'grits = ["P120", "P170"]',
        'job.toml:23: surface[1].grits[2] (surface "face")',
        'given "P170"; wanted a grit of the reference tables: "P180", "P150", "P120"',
        '"P180"',
    ),
    (
        'grits = ["P120", "P180"]',
        'grits = "P120"',
        'job.toml:23: surface[1].grits (surface "face")',
        'given "P120"; wanted a list',
        'grits = ["P120", "P240"]',
    ),
    (
        'coating = "clearcoat"',
        'coating = "clear coats"',
        'job.toml:33: surface[2].coating (surface "hood")',
        'given "clear coats"; wanted a coating of the reference tables: "clearcoat", "gel coat", "refinish clearcoat"',
        '"clearcoat"',
    ),
    (
        'coating = "clearcoat"',
        'coating = "clearcoat"\nlength = "1 m"',
        'job.toml:34: surface[2].length (surface "hood")',
        'given "1 m"; wanted either a drawing with its layer or a length with its width, not both',
        "",
    ),
    (
        'layer = "HOOD"\n',
        "",
        'job.toml:28: surface[2].layer (surface "hood")',
        'wanted the layer of "hood.dxf" with this surface',
        'layer = "RIM"',
    ),
    (
        'area = "20 cm2"',
        "",
        'job.toml:39: surface[3].area (surface "spot")',
        "wanted an area, or a length with its width, or a drawing with its layer",
        'area = "0.24 m2"',
    ),
    (
        'area = "20 cm2"',
        'area = "20 cm2"\nlength = "50 mm"\nwidth = "40 mm"',
        'job.toml:41: surface[3].area (surface "spot")',
        'given "20 cm2"; wanted either a length with its width or an area, not both',
        "",
    ),
    (
        'area = "20 cm2"',
        'area = "20 cm2"\nholes_layer = "HOLES"',
        'job.toml:42: surface[3].holes_layer (surface "spot")',
        'given "HOLES"; wanted a holes layer only with a drawing',
        "",
    ),
    (
        'area = "20 cm2"',
        'area = "0 cm2"',
        'job.toml:41: surface[3].area (surface "spot")',
        'given "0 cm2"; wanted an area of more than 0 cm2',
        '"2.5 cm2"',
    ),
    (
        'width = "400 mm"\n',
        "",
        'job.toml:17: surface[1].width (surface "face")',
        'wanted the width that goes with length "600 mm"',
        'width = "400 mm"',
    ),
    (
        'length = "600 mm"\n',
        "",
        'job.toml:19: surface[1].width (surface "face")',
        'given "400 mm"; wanted a width only with its length',
        'length = "600 mm"',
    ),
    (
        'length = "600 mm"',
        'length = "600"',
        'job.toml:19: surface[1].length (surface "face")',
        'given "600"; wanted a length in mm, um, cm, m, in, inch, mil, ft',
        '"600 mm"',
    ),
    (
        'layer_thickness_scatter = "10 um"',
        'layer_thickness_scatter = "50 um"',
        'job.toml:35: surface[2].layer_thickness_scatter (surface "hood")',
        'given "50 um"; wanted at most the layer_thickness itself ("45 um")',
        "",
    ),
    (
        'layer_thickness_scatter = "10 um"',
        'layer_thickness_scatter = "22 um"',
        'job.toml:36: surface[2].layer_keep (surface "hood")',
        'given "25 um"; wanted less than the layer at its thinnest, layer_thickness ("45 um") less its scatter',
        "",
    ),
    (
        'layer_thickness = "45 um"\n',
        "",
        'job.toml:34: surface[2].layer_thickness_scatter (surface "hood")',
        'given "10 um"; wanted a scatter only with its layer_thickness',
        "",
    ),
    (
        'area = "20 cm2"\ncoating = "basecoat"',
        'area = "20 cm2"',
        'job.toml:42: surface[3].layer_keep (surface "spot")',
        'given "5 um"; wanted a thickness to keep only with a coating or a layer_thickness',
        'layer_thickness = "45 um"',
    ),
    (
        'layer_keep = "5 um"',
        'layer_keep = "12 um"',
        'job.toml:43: surface[3].layer_keep (surface "spot")',
        'given "12 um"; wanted less than the basecoat at its thinnest, 12 um, or the layer_thickness of this part',
        "",
    ),
    (
        'removal = "2 um"',
        'removal = "20 um"',
        'job.toml:44: surface[3].removal (surface "spot")',
        'given "20 um"; wanted less than the basecoat as a whole, 20 um, or the layer_thickness of this part',
        "",
    ),
    (
        'removal = "4 um"',
        'removal = "45 um"',
        'job.toml:37: surface[2].removal (surface "hood")',
        'given "45 um"; wanted less than the whole layer, layer_thickness ("45 um")',
        "",
    ),
    (
        'removal = "4 um"\n',
        "",
        'job.toml:28: surface[2].removal (surface "hood")',
        "wanted a target_roughness or a removal",
        'target_roughness = "0.4 um"',
    ),
    (
        'removal = "4 um"',
        'removal = "-4 um"',
        'job.toml:37: surface[2].removal (surface "hood")',
        'given "-4 um"; wanted a length of more than 0 um',
        '"4 um"',
    ),
    (
        'target_roughness = "0.8 um"',
        'target_roughness = "3.2 um"',
        'job.toml:22: surface[1].target_roughness (surface "face")',
        'given "3.2 um"; wanted a target no rougher than the start, initial_roughness ("2.5 um")',
        "",
    ),
    (
        'target_roughness = "0.8 um"',
        'target_roughness = "0.8 mm"',
        'job.toml:22: surface[1].target_roughness (surface "face")',
        'given "0.8 mm"; wanted a roughness in um, nm, uin, mil',
        '"0.8 um"',
    ),
    (
        'target_roughness = "0.8 um"',
        'target_roughness = "0 um"',
        'job.toml:22: surface[1].target_roughness (surface "face")',
        'given "0 um"; wanted a roughness of more than 0 um',
        '"0.8 um"',
    ),
    (
        'target_roughness = "0.8 um"\n',
        "",
        'job.toml:17: surface[1].removal (surface "face")',
        "wanted a target_roughness or a removal",
        'target_roughness = "0.4 um"',
    ),
    (
        'initial_roughness = "2.5 um"\n',
        "",
        'job.toml:21: surface[1].target_roughness (surface "face")',
        'given "0.8 um"; wanted the initial_roughness beside the target',
        'initial_roughness = "1.6 um"',
    ),
    (
        'overhang = "20 %"',
        'overhang = "50 %"',
        'job.toml:25: surface[1].overhang (surface "face")',
        'given "50 %"; wanted a fraction of at least 0 % and less than 50 %',
        '"20 %"',
    ),
    (
        'direction = "45 deg"',
        'direction = "180 deg"',
        'job.toml:26: surface[1].direction (surface "face")',
        'given "180 deg"; wanted an angle of at least 0 deg and less than 180 deg',
        '"90 deg"',
    ),
    (
        'direction = "45 deg"',
        'cross_hatch = "yes"',
        'job.toml:26: surface[1].cross_hatch (surface "face")',
        'given "yes"; wanted true or false',
        "true",
    ),
    (
        'direction = "45 deg"',
        "cross_hatch = 1",
        'job.toml:26: surface[1].cross_hatch (surface "face")',
        "given 1; wanted true or false",
        "true",
    ),
    (
        'name = "spot"',
        'name = "rim"',
        'job.toml:40: surface[3].name (surface "rim")',
        'given "rim"; wanted a name that no other edge, surface, contour or removal has',
        "",
    ),
    (
        'material = "X5CrNi18-10"',
        'material = "X5CrNi18-10"\nremoval_factor = 11',
        "job.toml:6: part.removal_factor",
        "given 11; wanted a number of at most 10",
        "0.8",
    ),
]


@pytest.mark.parametrize(("old", "new", "place", "says", "write"), FAULTS)
def test_fault_in_surface(sanding_desk: Any, old: str, new: str, place: str, says: str, write: str) -> None:
    (fault,) = sanding_desk.faults(job=[(old, new)])
    assert str(fault) == f"{place}: {says}" + (f"; write {write}" if write else "")
    assert fault.write == write
