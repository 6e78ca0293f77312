"""A commented job file to start from, written out of the models so that it cannot fall behind them."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any, Final, Literal, NamedTuple

from pydantic.fields import FieldInfo

from finishplan.job.fields import Section, example_of, is_list, section_of
from finishplan.job.model import Job
from finishplan.units import System

COMMENT_COLUMN: Final = 44


class Figure(NamedTuple):
    """One figure of the starter, round in either system of units."""

    metric: str
    inch: str


_HEADING: Final = """\
# Job file for finishplan, in TOML 1.0.
# Every figure is invented: put in those of your own part, tools, spindles and robot.
# A quantity is text with its unit ("0.4 mm", "0.016 in"); units may be mixed freely.
# Lines behind "#:" are keys that may be left out; remove those two characters to use one.
"""

_DEBURRING: Final[Mapping[str, Any]] = {
    "job": {"title": "starter job", "units": Figure("metric", "inch"), "batch": 500},
    "part": {"material": "EN AC-46000"},
    "cell": {
        "title": "starter cell",
        "robot": {"kind": "articulated", "payload": Figure("20 kg", "45 lb")},
        "spindle": [
            {
                "name": "rigid spindle",
                "speed_min": "10000 rpm",
                "speed_max": "40000 rpm",
                "mass": Figure("3 kg", "6.5 lb"),
                "curve": [
                    {"speed": "10000 rpm", "power": Figure("300 W", "0.4 hp")},
                    {"speed": "40000 rpm", "power": Figure("900 W", "1.2 hp")},
                ],
            },
            {
                "name": "floating spindle",
                "speed_min": "20000 rpm",
                "speed_max": "40000 rpm",
                "mass": Figure("0.7 kg", "1.5 lb"),
                "compliance": "floating mount",
                "curve": [
                    {"speed": "20000 rpm", "power": Figure("250 W", "0.33 hp")},
                    {"speed": "40000 rpm", "power": Figure("300 W", "0.4 hp")},
                ],
            },
        ],
        "compliance": [
            {
                "name": "floating mount",
                "kind": "radial",
                "force_min": Figure("1.5 N", "0.35 lbf"),
                "force_max": Figure("40 N", "9 lbf"),
                "stroke": Figure("8 mm", "5/16 in"),
                "moving_mass": Figure("0.5 kg", "1.1 lb"),
                "mass": Figure("1.5 kg", "3.3 lb"),
                "friction_band": Figure("0.8 N", "0.18 lbf"),
            }
        ],
        "tool": [
            {
                "name": "rigid burr",
                "family": "carbide burr aluminium cut",
                "diameter": Figure("8 mm", "5/16 in"),
                "teeth": 10,
                "overhang": Figure("30 mm", "1.2 in"),
                "rated_speed": "45000 rpm",
                "spindle": "rigid spindle",
            },
            {
                "name": "floating burr",
                "family": "carbide burr aluminium cut",
                "diameter": Figure("8 mm", "5/16 in"),
                "teeth": 10,
                "overhang": Figure("30 mm", "1.2 in"),
                "rated_speed": "45000 rpm",
                "spindle": "floating spindle",
            },
        ],
    },
    "edge": [
        {
            "name": "outer edge",
            "length": Figure("850 mm", "33.5 in"),
            "burr": {"height": Figure("0.3 mm", "0.012 in"), "root_thickness": Figure("0.1 mm", "0.004 in")},
            "edge_break": {"lower": Figure("0.2 mm", "0.008 in"), "upper": Figure("1.2 mm", "0.048 in")},
        }
    ],
}

_SANDING: Final[Mapping[str, Any]] = {
    "job": {"title": "starter job", "units": Figure("metric", "inch"), "batch": 500},
    "part": {"material": "X5CrNi18-10"},
    "cell": {
        "title": "starter cell",
        "robot": {"kind": "articulated", "payload": Figure("20 kg", "45 lb")},
        "spindle": [
            {
                "name": "orbital sander",
                "speed_min": "4000 rpm",
                "speed_max": "12000 rpm",
                "mass": Figure("1.2 kg", "2.6 lb"),
                "compliance": "force axis",
                "curve": [
                    {"speed": "4000 rpm", "power": Figure("120 W", "0.16 hp")},
                    {"speed": "12000 rpm", "power": Figure("350 W", "0.47 hp")},
                ],
            }
        ],
        "compliance": [
            {
                "name": "force axis",
                "kind": "force-controlled",
                "force_min": Figure("5 N", "1.1 lbf"),
                "force_max": Figure("100 N", "22 lbf"),
                "stroke": Figure("35 mm", "1.4 in"),
                "moving_mass": Figure("2.5 kg", "5.5 lb"),
                "mass": Figure("3 kg", "6.5 lb"),
                "bandwidth": "5 Hz",
            }
        ],
        "abrasive": [
            {
                "name": "orbital 150",
                "family": "orbital disc",
                "grits": ["P120", "P180", "P240"],
                "diameter": Figure("150 mm", "6 in"),
                "backing": "medium foam pad",
                "orbit": Figure("5 mm", "3/16 in"),
                "rated_speed": "12000 rpm",
                "spindle": "orbital sander",
            }
        ],
    },
    "surface": [
        {
            "name": "panel",
            "length": Figure("300 mm", "12 in"),
            "width": Figure("200 mm", "8 in"),
            "initial_roughness": Figure("1.2 um", "50 uin"),
            "target_roughness": Figure("0.8 um", "32 uin"),
        }
    ],
}

_TRIMMING: Final[Mapping[str, Any]] = {
    "job": {"title": "starter job", "units": Figure("metric", "inch"), "batch": 500},
    "part": {"material": "GFRP"},
    "cell": {
        "title": "starter cell",
        "robot": {
            "kind": "articulated",
            "payload": Figure("120 kg", "265 lb"),
            "path_accuracy": Figure("0.2 mm", "0.008 in"),
            "stiffness": Figure("800 N/mm", "4600 lbf/in"),
        },
        "spindle": [
            {
                "name": "router spindle",
                "speed_min": "6000 rpm",
                "speed_max": "24000 rpm",
                "mass": Figure("12 kg", "26 lb"),
                "curve": [
                    {"speed": "6000 rpm", "power": Figure("1500 W", "2 hp")},
                    {"speed": "12000 rpm", "power": Figure("3000 W", "4 hp")},
                    {"speed": "24000 rpm", "power": Figure("3000 W", "4 hp")},
                ],
            }
        ],
        "tool": [
            {
                "name": "diamond router",
                "family": "diamond router",
                "diameter": Figure("12 mm", "1/2 in"),
                "teeth": 2,
                "overhang": Figure("35 mm", "1.4 in"),
                "rated_speed": "24000 rpm",
                "spindle": "router spindle",
            }
        ],
    },
    "contour": [
        {
            "name": "rim",
            "length": Figure("1200 mm", "48 in"),
            "thickness": Figure("4 mm", "0.16 in"),
            "stock": Figure("3 mm", "0.12 in"),
            "tolerance": Figure("0.8 mm", "0.032 in"),
        }
    ],
}

Process = Literal["deburring", "sanding", "trimming"]

_FIGURES: Final[Mapping[Process, Mapping[str, Any]]] = {
    "deburring": _DEBURRING,
    "sanding": _SANDING,
    "trimming": _TRIMMING,
}


def starter_text(units: System, process: Process = "deburring") -> str:
    """Text of a job file that loads as it stands, with its cell inside and every key explained."""
    return _HEADING + "".join(f"{line}\n" for line in _table(Job, _FIGURES[process], (), units))


def _table(section: type[Section], figures: Mapping[str, Any], path: tuple[str, ...], units: System) -> Iterator[str]:
    """Lines of a table: its own keys, then the tables below it, as the format demands."""
    fields = section.model_fields.items()
    for key, field in fields:
        if section_of(field.annotation) is None:
            yield _assignment(key, field, figures.get(key), units)
    for key, field in fields:
        below = section_of(field.annotation)
        if below is not None and key in figures:
            for inner in figures[key] if is_list(field.annotation) else [figures[key]]:
                yield from ("", _commented(_header((*path, key), field), field))
                yield from _table(below, inner, (*path, key), units)


def _header(path: tuple[str, ...], field: FieldInfo) -> str:
    return f"[[{'.'.join(path)}]]" if is_list(field.annotation) else f"[{'.'.join(path)}]"


def _assignment(key: str, field: FieldInfo, figure: object, units: System) -> str:
    if figure is None:
        return _commented(f"#: {key} = {example_of(field)}", field)
    value = getattr(figure, units) if isinstance(figure, Figure) else figure
    return _commented(f"{key} = {json.dumps(value)}", field)


def _commented(code: str, field: FieldInfo) -> str:
    return f"{code:<{COMMENT_COLUMN}}# {field.description}"
