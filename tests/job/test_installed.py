"""The installed table of a cell and the contents of a part: what may be written, and what is answered."""

from __future__ import annotations

from pathlib import Path

import pytest

from finishplan.errors import JobError
from finishplan.job import Composition, Installed, load_job


@pytest.fixture
def faulty(examples: Path):
    """Faults of an example with a line added to its cell or its part."""

    def told(cell: str = "", part: str = "") -> list[str]:
        cell_file, job = Path("finishing_cell.toml"), Path("cast_cover.toml")
        cell_file.write_text(cell_file.read_text().split("[installed]")[0] + f"[installed]\n{cell}\n")
        job.write_text(job.read_text().replace('material = "EN AC-46000"', f'material = "EN AC-46000"\n{part}'))
        with pytest.raises(JobError) as raised:
            load_job("cast_cover.toml")
        return [str(fault) for fault in raised.value.faults]

    return told


def test_quantities_come_out_in_si() -> None:
    own = Installed(
        shift_length="8 h", extraction_flow="1200 m3/h", hood_opening="200 cm2", noise_level="82 dB(A)",
        dust_sample="0.4 mg/m3", fibre_count="0.3 f/cm3", guard_energy="250 J", manual_speed="250 mm/s",
    )  # fmt: skip
    assert own.shift_length == 28800
    assert own.extraction_flow == pytest.approx(1 / 3)
    assert own.hood_opening == pytest.approx(0.02)
    assert (own.noise_level, own.guard_energy, own.manual_speed) == (82, 250, 0.25)
    assert own.dust_sample == pytest.approx(0.4e-6)
    assert own.fibre_count == pytest.approx(0.3e6)


def test_a_cell_that_states_nothing_is_a_cell() -> None:
    assert all(value is None for name, value in Installed() if name not in ("hood_flanged", "opening_shape"))


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('extraction_flow = "1200"', ("installed.extraction_flow", "wanted an air flow", '"1200 m3/h"')),
        ('extraction_flow = "1200 m/s"', ("wanted an air flow in m3/h",)),
        ('noise_level = "82 dB"', ("wanted a sound level in dB(A)",)),
        ('collector = "cyclone"', ('wanted one of "wet", "dry outdoors", "dry indoors"',)),
        ('collector_shared_with = ["iron"]', ("collector_shared_with", '"light-metal"')),
        ("cabinet_protection = 7", ("a number of at most 6",)),
        ('guard_locking = "yes"', ("wanted true or false",)),
        ('opening_shape = "round"\nslot_length = "60 mm"', ("a length only for a slot",)),
        ('light_curtain_resolution = "80 mm"', ("a resolution of at most 70 mm",)),
        ('guard_openning = "8 mm"', ("wanted one of the keys", "write guard_opening")),
    ],
)
def test_faults_of_the_cell(faulty, line: str, told: tuple[str, ...]) -> None:
    (fault,) = faulty(cell=line)
    assert fault.startswith("finishing_cell.toml:")
    for part in told:
        assert part in fault


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('composition = { chromium = "18 mm" }', ("part.composition.chromium", "wanted a fraction")),
        ('composition = { chromium = "60 %", nickel = "50 %" }', ("shares that add up to 100 % at most",)),
        ('composition = { uranium = "1 %" }', ("wanted one of the keys",)),
        ('coating_content = ["none", "lead"]', ('either "none" or what was found',)),
        ('coating_content = ["asbestos"]', ('"none", "lead", "chromate", "silica"',)),
    ],
)
def test_faults_of_the_part(faulty, line: str, told: tuple[str, ...]) -> None:
    (fault,) = faulty(part=line)
    assert fault.startswith("cast_cover.toml:")
    for part in told:
        assert part in fault


def test_shares_leave_out_what_is_not_there() -> None:
    assert Composition(nickel="8 %", cobalt="0 %").shares() == {"nickel": 0.08}
