"""Which abrasives a feature gets, and what is said when it is left with no tool at all."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from finishplan import reference
from finishplan.job import Feature, LoadedJob, load_job
from finishplan.job.suitability import RIGID_FAMILIES, WORKED_BY, Work, abrasive_candidate, is_rigid, kind_of
from finishplan.reference import AbrasiveFamily

FAMILIES = [reference.abrasive(name) for name in reference.names("abrasives")]

ANY_TOOL_ON = {
    "rim": ('tools = ["flap 100"]\n', ""),
    "face": ('tools = ["orbital 150", "belt 50"]\n', ""),
    "seam": ('tools = ["fibre 125", "grinder"]\n', ""),
}
ANY_GRIT = ('grits = ["P120", "P180"]\n', "")
NARROW = ('width = "400 mm"', 'width = "100 mm"')


def by_feature(loaded: LoadedJob) -> dict[str, list[str]]:
    features: Sequence[Feature] = [*loaded.job.edge, *loaded.job.surface, *loaded.job.removal]
    return {feature.name: [one.name for one in loaded.abrasives_for(feature)] for feature in features}


def test_a_feature_gets_the_abrasives_it_names_or_all_that_suit_it(sanding_desk: Any) -> None:
    assert by_feature(load_job(sanding_desk.write())) == {
        "rim": ["flap 100"],
        "face": ["orbital 150", "belt 50"],
        "hood": ["orbital 150", "mop"],
        "spot": ["orbital 150", "belt 50", "flap 100"],
        "seam": ["fibre 125", "grinder"],
    }


def test_without_names_kind_window_and_grit_decide(sanding_desk: Any) -> None:
    found = by_feature(load_job(sanding_desk.write(job=[*ANY_TOOL_ON.values()])))
    assert found["rim"] == ["belt 50", "flap 100"]
    assert found["face"] == ["orbital 150", "belt 50", "mop"]
    assert found["seam"] == ["belt 50", "fibre 125", "flap 100", "grinder"]


def test_a_coating_has_windows_of_its_own(sanding_desk: Any) -> None:
    bare = ('coating = "clearcoat"\n', "")
    assert by_feature(load_job(sanding_desk.write(job=[bare])))["hood"] == [
        "orbital 150", "belt 50", "fibre 125", "flap 100", "mop",
    ]  # fmt: skip


def test_a_flat_pad_must_fit_on_the_surface_and_a_tilted_disc_need_not(sanding_desk: Any) -> None:
    narrow = [NARROW, ANY_GRIT, ANY_TOOL_ON["face"]]
    assert by_feature(load_job(sanding_desk.write(job=narrow)))["face"] == ["belt 50", "fibre 125", "flap 100", "mop"]
    flat = ('tilt = "12 deg"\n', "")
    assert "fibre 125" not in by_feature(load_job(sanding_desk.write(narrow, [flat])))["face"]
    as_wide = [(NARROW[0], 'width = "150 mm"'), *narrow[1:]]
    assert "orbital 150" in by_feature(load_job(sanding_desk.write(as_wide)))["face"]


def test_grits_are_compared_however_they_are_spelled(sanding_desk: Any) -> None:
    loaded = load_job(sanding_desk.write(job=[('["P120", "P180"]', '["p-120"]')]))
    assert by_feature(loaded)["face"] == ["orbital 150", "belt 50"]


CUTTER = """
[[tool]]
name = "burr 6"
family = "carbide end mill"
diameter = "6 mm"
teeth = 12
overhang = "30 mm"
rated_speed = "40000 rpm"
spindle = "stiff"

[[abrasive]]
name = "mop"
"""


def test_cutters_and_abrasives_may_share_an_edge(sanding_desk: Any) -> None:
    cutter = ('\n[[abrasive]]\nname = "mop"\n', CUTTER)
    both = ('tools = ["flap 100"]', 'tools = ["burr 6", "flap 100"]')
    loaded = load_job(sanding_desk.write([both], [cutter]))
    (rim,) = loaded.job.edge
    assert [tool.name for tool in loaded.tools_for(rim)] == ["burr 6"]
    assert [one.name for one in loaded.abrasives_for(rim)] == ["flap 100"]

    # The wheel of 100 mm reaches legs of 5 mm; the burr of 6 mm alone does not.
    wide = ('upper = "0.4 mm"', 'upper = "5 mm"')
    assert load_job(sanding_desk.write([both, wide], [cutter]))
    (fault,) = sanding_desk.faults([('tools = ["flap 100"]', 'tools = ["burr 6"]'), wide], [cutter])
    assert fault.wanted == "legs shorter than the radius of the largest tool allowed, 3 mm"

    (fault,) = sanding_desk.faults([('["orbital 150", "belt 50"]', '["burr 6"]')], [cutter])
    assert fault.wanted.startswith('an abrasive of the cell: "orbital 150"')


EDGE = """
[[edge]]
name = "rim"
length = "850 mm"
burr = { height = "0.2 mm", root_thickness = "0.1 mm" }
edge_break = { lower = "0.1 mm", upper = "0.4 mm" }
"""
SURFACE = """
[[surface]]
name = "face"
length = "600 mm"
width = "400 mm"
removal = "4 um"
"""
REMOVAL = """
[[removal]]
name = "ingate"
kind = "gate"
height = "2 mm"
width = "6 mm"
length = "12 mm"
"""


def reduce(desk: Any, feature: str, *abrasives: str) -> None:
    """Leave one feature in the job, and these abrasives in the cell."""
    desk.job = desk.job[: desk.job.index("[[edge]]")] + feature
    head, *tables = desk.cell.split("[[abrasive]]")
    desk.cell = head + "".join(f"[[abrasive]]{table}" for table in tables if any(name in table for name in abrasives))


@pytest.mark.parametrize(
    ("feature", "abrasive", "wanted"),
    [
        (EDGE, "orbital 150", "a cutter, belt, wheel or brush, in the cell"),
        (EDGE, "grinder", "a cutter, belt, wheel or brush, in the cell"),
        (SURFACE, "grinder", "a belt, disc, orbital, wheel, brush or buff, in the cell"),
        (REMOVAL, "mop", "a belt, disc, wheel, bonded wheel or cut-off wheel, in the cell"),
        (
            SURFACE + 'coating = "clearcoat"\n',
            "belt 50",
            "a tool whose family has a window for clearcoat, in the cell",
        ),
        (SURFACE + 'grits = ["P120"]\n', "flap 100", 'a tool with one of the grits allowed, "P120", in the cell'),
        (
            SURFACE.replace("400 mm", "5 in"),
            "orbital 150",
            "a pad no larger than the shorter side of the surface, 5 in, in the cell",
        ),
    ],
)
def test_a_feature_left_without_tools_is_told_what_is_missing(
    sanding_desk: Any, feature: str, abrasive: str, wanted: str
) -> None:
    reduce(sanding_desk, feature, abrasive)
    (fault,) = sanding_desk.faults()
    assert (fault.line, fault.given, fault.wanted) == (11, "none of its tools", wanted)


def test_a_cell_with_cutters_alone_deburrs_but_does_not_sand(desk: Any) -> None:
    last = 'edge_break = { measure = "radius", lower = "0.1 mm", upper = "0.4 mm" }\n'
    faults = desk.faults(job=[(last, last + SURFACE + REMOVAL)])
    assert [(fault.key, fault.given) for fault in faults] == [
        ('surface[1] (surface "face")', "none of its tools"),
        ('removal[1] (removal "ingate")', "none of its tools"),
    ]


def test_a_cell_needs_a_tool_and_a_job_a_feature(sanding_desk: Any) -> None:
    reduce(sanding_desk, "")
    assert [str(fault) for fault in sanding_desk.faults()] == [
        "job.toml:1: removal: wanted at least one feature: an edge, a surface, a contour or a removal; "
        "write [[edge]], [[surface]], [[contour]] or [[removal]]",
        "cell.toml:1: abrasive: wanted at least one tool, cutter or abrasive; "
        "write [[tool]] or [[abrasive]] in the cell",
    ]


@pytest.mark.parametrize("feature", [EDGE, SURFACE, REMOVAL])
def test_one_feature_of_any_kind_makes_a_job(sanding_desk: Any, feature: str) -> None:
    reduce(sanding_desk, feature, "belt 50")
    assert list(by_feature(load_job(sanding_desk.write())).values()) == [["belt 50"]]


def test_without_a_compliant_spindle_the_spindle_itself_is_to_be_mended(sanding_desk: Any) -> None:
    reduce(sanding_desk, EDGE, "belt 50")
    (fault,) = sanding_desk.faults(cell=[('compliance = "axis"\n', "")])
    assert fault.write == "compliance in that [[spindle]]"


def test_faults_of_features_and_abrasives_come_together(sanding_desk: Any) -> None:
    faults = sanding_desk.faults(
        job=[
            ('tools = ["flap 100"]', 'tools = ["flip 100"]'),
            ('target_roughness = "0.8 um"', 'target_roughness = "8 um"'),
            ('"clearcoat"', '"clearcote"'),
            ('drawing = "hood.dxf"', 'length = "1 m"'),
            ('kind = "weld bead"', 'kind = "bead"'),
        ],
        cell=[
            ('orbit = "5 mm"\n', 'tilt = "5 deg"\n'),
            ('"P36"', '"P12"'),
            ('rated_speed = "12200 rpm"\nspindle = "soft"', 'spindle = "stiff"'),
        ],
    )
    assert [(fault.line, fault.key.split(" ")[0]) for fault in faults] == [
        (13, "edge[1].tools[1]"),
        (22, "surface[1].target_roughness"),
        (28, "surface[2].width"),
        (31, "surface[2].layer"),
        (32, "surface[2].holes_layer"),
        (33, "surface[2].coating"),
        (48, "removal[1].kind"),
        (30, "abrasive[1].orbit"),
        (36, "abrasive[1].tilt"),
        (52, "abrasive[3].rated_speed"),
        (55, "abrasive[3].grits[1]"),
        (58, "abrasive[3].spindle"),
    ]


def test_an_unknown_family_hides_no_other_fault_and_causes_none(sanding_desk: Any) -> None:
    faults = sanding_desk.faults(
        job=[('tools = ["flap 100"]', 'tools = ["mop"]')],
        cell=[('family = "orbital disc"', 'family = "orbit"'), ('family = "buff"', 'family = "buffalo"')],
    )
    assert [fault.key.split(" ")[0] for fault in faults] == ["abrasive[1].family", "abrasive[5].family"]


def test_what_is_not_known_of_an_abrasive_is_not_held_against_it() -> None:
    work = Work(WORKED_BY["surface"], "clearcoat", frozenset({"P1500"}), 0.1)
    buff, orbital, belt = map(reference.abrasive, ("buff", "orbital disc", "coated belt"))
    assert work.suits(abrasive_candidate("of a family unknown", None, ["P60"], 0.2, tilted=False))
    assert work.suits(abrasive_candidate("of a size unknown", orbital, ["P1500"], None, tilted=False))
    assert work.suits(abrasive_candidate("with an unknown grit", orbital, ["P1"], 0.1, tilted=False))
    assert work.suits(abrasive_candidate("without graded grain", buff, [], 0.2, tilted=False))
    assert not work.suits(abrasive_candidate("without a window", belt, ["P1500"], None, tilted=False))
    assert not work.suits(abrasive_candidate("too large", orbital, ["P1500"], 0.2, tilted=False))


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_every_family_suits_some_feature(family: AbrasiveFamily) -> None:
    kind = kind_of(family)
    assert any(kind in kinds for kinds in WORKED_BY.values())


def test_rigid_families_work_on_no_edge_and_no_surface() -> None:
    rigid = {kind_of(family) for family in FAMILIES if is_rigid(family)}
    assert rigid == {*RIGID_FAMILIES, "cut-off wheel", "grit router"}
    assert rigid <= {*WORKED_BY["removal"], *WORKED_BY["contour"]}
    assert not rigid & {*WORKED_BY["edge"], *WORKED_BY["surface"]}


MOUNTED = {
    "belt": 'width = "25 mm"',
    "disc": 'tilt = "10 deg"\nbacking = "rubber pad"',
    "orbital": 'orbit = "5 mm"\nbacking = "hard foam pad"',
    "wheel": 'width = "25 mm"',
    "brush": 'width = "25 mm"',
    "buff": 'width = "25 mm"',
    "cut-off": 'width = "2 mm"\nbody_thickness = "1.6 mm"\nflange_diameter = "40 mm"',
    "grit router": 'width = "20 mm"\noverhang = "40 mm"\nshank_diameter = "12 mm"',
}


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.name)
def test_every_family_of_the_tables_can_be_mounted(sanding_desk: Any, family: AbrasiveFamily) -> None:
    spindle = "stiff" if is_rigid(family) else "soft"
    grain = family.grain
    grits = "" if grain is None else f'grits = ["{grain.coarsest.name}", "{grain.finest.name}"]'
    table = (
        f'name = "new"\nfamily = "{family.name}"\n{grits}\ndiameter = "100 mm"\n{MOUNTED[family.tool]}\n'
        f'rated_speed = "5000 rpm"\nspindle = "{spindle}"\n[[abrasive]]\nname = "mop"\n'
    )
    loaded = load_job(sanding_desk.write(cell=[('name = "mop"\n', table)]))
    mounted = loaded.cell.abrasive[4]
    assert (mounted.name, mounted.family, mounted.diameter) == ("new", family.name, 0.1)
