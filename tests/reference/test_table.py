"""The shipped tables, figure by figure, and what a malformed table file is answered with."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from finishplan import reference
from finishplan.errors import ReferenceDataError
from finishplan.reference import table as table_module
from finishplan.reference.cutters import CUTTERS
from finishplan.reference.table import materials_directory, read_rows
from finishplan.reference.value import GRADES, Value
from finishplan.reference.workpieces import WORKPIECES

FIGURES = {figure.path: figure for table in reference.tables() for figure in reference.values(table)}

UNPUBLISHED = {"from-memory": "from memory", "common-practice": "common practice"}


@pytest.mark.parametrize("figure", FIGURES.values(), ids=FIGURES.keys())
def test_every_figure_is_graded_located_and_inside_its_band(figure: Value) -> None:
    assert figure.grade in GRADES
    assert figure.locator.strip()
    assert reference.source(figure.source).name == figure.source
    assert figure.low is None or figure.high is None or figure.low <= figure.value <= figure.high
    assert UNPUBLISHED.get(figure.source) == (figure.grade if figure.grade in UNPUBLISHED.values() else None)


def test_every_table_has_figures_but_the_bibliography() -> None:
    without = [table for table in reference.tables() if not any(reference.values(table))]
    assert without == ["sources"]


def test_every_source_is_used_and_cited_by_its_publication() -> None:
    assert {figure.source for figure in FIGURES.values()} == set(reference.names("sources"))
    for name in reference.names("sources"):
        entry = reference.source(name)
        text = f"{entry.citation} {entry.reached}".casefold()
        assert not any(trace in text for trace in ("http", "www", "wiki", "github", "doi.org"))


def test_figures_of_the_records_are_the_figures_of_the_walk() -> None:
    """The records and the walk read the files separately; neither may miss a figure."""
    found = {figure.path: figure for table in reference.tables() for figure in _inside(reference.rows(table))}
    assert found == FIGURES


def _inside(held: object) -> Iterator[Value]:
    if isinstance(held, Value):
        yield held
    elif isinstance(held, dict):
        yield from _inside(list(held.values()))
    elif isinstance(held, list | tuple):
        for item in held:
            yield from _inside(item)
    elif hasattr(held, "__dataclass_fields__"):
        yield from _inside([getattr(held, name) for name in held.__dataclass_fields__])


def test_every_default_says_in_words_what_it_is() -> None:
    for name in reference.names("defaults"):
        assert len(reference.default(name).title.split()) >= 3


SOUND_FIGURE = '{ value = 1, unit = "%s", source = "s", locator = "l", grade = "derived" }'


def steel(**fields: str) -> str:
    """A record of a workpiece table, with fields replaced; an empty text leaves the field out."""
    entries = {
        "title": '"Steel"',
        "aliases": '["iron"]',
        "group": '"steel-alloy"',
        "dust": '"ferrous"',
        "chip": '"long"',
        "density": SOUND_FIGURE % "kg/m3",
        "tensile_strength": SOUND_FIGURE % "N/mm2",
        "specific_heat": SOUND_FIGURE % "J/(kg K)",
        "conductivity": SOUND_FIGURE % "W/(m K)",
        "temperature_limit": SOUND_FIGURE % "degC",
        "kc11": SOUND_FIGURE % "N/mm2",
        "mc": SOUND_FIGURE % "1",
        "reference_rake": SOUND_FIGURE % "deg",
        "chip_low": SOUND_FIGURE % "mm",
        "chip_high": SOUND_FIGURE % "mm",
    } | fields
    return "\n".join(f"{key} = {entry}" for key, entry in entries.items() if entry)


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "workpieces.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_sound_record_is_read(tmp_path: Path) -> None:
    rows = read_rows("workpieces", written(tmp_path, f"[steel]\n{steel()}\n"), WORKPIECES.read)
    assert rows["steel"].aliases == ("iron",)
    assert rows["steel"].cutting.chip_low.value == pytest.approx(1e-3)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"title": ""}, "workpieces.steel.title: missing"),
        ({"title": "3"}, "workpieces.steel.title: given 3; wanted text"),
        ({"aliases": '"iron"'}, "workpieces.steel.aliases: given 'iron'; wanted a list of texts"),
        ({"group": '"steal"'}, "workpieces.steel.group: given 'steal'; wanted one of steel-unalloyed"),
        ({"dust": '"grey"'}, "workpieces.steel.dust: given 'grey'"),
        ({"density": ""}, "workpieces.steel.density: missing"),
        ({"density": SOUND_FIGURE % "mm"}, "workpieces.steel.density: given unit 'mm'; wanted a unit of density"),
        ({"mc": ""}, "workpieces.steel.mc: missing"),
        ({"kc11": ""}, "workpieces.steel.kc11: wanted either kc11 with mc, or slope with intercept"),
        ({"slope": SOUND_FIGURE % "N/mm2"}, "workpieces.steel.kc11: wanted either kc11 with mc"),
        ({"densty": SOUND_FIGURE % "kg/m3"}, "workpieces.steel.densty: unknown field"),
    ],
)
def test_a_malformed_record_names_file_path_and_reason(tmp_path: Path, fields: dict[str, str], message: str) -> None:
    path = written(tmp_path, f"[steel]\n{steel(**fields)}\n")
    with pytest.raises(ReferenceDataError) as caught:
        read_rows("workpieces", path, WORKPIECES.read)
    assert str(caught.value).startswith(f"materials/workpieces.toml: {message}")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("steel = 3\n", "workpieces.steel: given 3; wanted a table"),
        ("[steel\n", "not a TOML file in UTF-8"),
        (f"[steel]\n{steel()}\n[Iron]\n{steel()}\n", "workpieces.Iron: the name 'Iron' already means 'steel'"),
    ],
)
def test_a_malformed_file_is_refused(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(ReferenceDataError) as caught:
        read_rows("workpieces", written(tmp_path, text), WORKPIECES.read)
    assert message in str(caught.value)


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ReferenceDataError, match=r"materials/absent\.toml: cannot be read"):
        read_rows("absent", tmp_path / "absent.toml", WORKPIECES.read)


def family(window: str, group: str = "brass") -> str:
    figures = {
        "reference_diameter": "mm",
        "largest_scaled_diameter": "mm",
        "edge_radius": "um",
        "effective_rake": "deg",
        "friction_coefficient": "1",
        "force_ratio": "1",
        "minimum_chip_ratio": "1",
        "youngs_modulus": "GPa",
        "wear_factor": "1",
    }
    lines = [f"{key} = {SOUND_FIGURE % unit}" for key, unit in figures.items()]
    return "\n".join(['[mill]\ntitle = "Mill"\ngeometry = "end mill"', *lines, f"[mill.windows.{group}]", window])


SPEEDS = "\n".join(
    f"{key} = {SOUND_FIGURE % unit}"
    for key, unit in {"speed_low": "m/s", "speed_high": "m/s", "feed_low": "mm", "feed_high": "mm"}.items()
)
LIFE = f"life_length = {SOUND_FIGURE % 'm'}"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (family(f"{SPEEDS}\n{LIFE}", "bras"), "cutters.mill.windows.bras: no such material group"),
        (family(SPEEDS), "cutters.mill.windows.brass.taylor_c: wanted either taylor_c with taylor_n, or life_length"),
        (family(f"{SPEEDS}\n{LIFE}\ntip = 1"), "cutters.mill.windows.brass.tip: unknown field"),
        (
            family(f"{SPEEDS}\n{LIFE}".replace("value = 1", "value = 2", 1)),
            "cutters.mill.windows.brass.speed_low: lies above cutters.mill.windows.brass.speed_high",
        ),
    ],
)
def test_a_malformed_window_is_refused(tmp_path: Path, text: str, message: str) -> None:
    path = tmp_path / "cutters.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ReferenceDataError) as caught:
        read_rows("cutters", path, CUTTERS.read)
    assert message in str(caught.value)


def test_tables_lie_in_the_package_before_the_checkout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "finishplan"
    package.mkdir()
    monkeypatch.setattr(table_module, "files", lambda _: package)
    (tmp_path / "materials").mkdir()
    with pytest.raises(ReferenceDataError, match="no reference tables"):
        materials_directory()
    (tmp_path / "pyproject.toml").touch()
    assert materials_directory() == tmp_path / "materials"
    (package / "materials").mkdir()
    assert materials_directory() == package / "materials"
