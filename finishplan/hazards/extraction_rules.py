"""Rules on the air that has to take the dust away: how much, from where, how fast."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from finishplan import units
from finishplan.hazards.context import Context, TurningTool
from finishplan.hazards.dusts import LIGHT_METALS
from finishplan.hazards.note import Amount, Comparison, Finding, Rule
from finishplan.hazards.wording import AUTHORITY, asked, assumption, default, from_memory
from finishplan.job import Installed
from finishplan.physics.ventilation import (
    CAPTURE_VELOCITIES,
    DUCT_VELOCITIES,
    FACE_VELOCITIES,
    HOOD_BAND,
    LIGHT_METAL_VELOCITY,
    WHEEL_EXHAUST_TABLES,
    DuctVelocity,
    WheelKind,
    booth_flow,
    capture_reach,
    dilution_flow,
    duct_diameter,
    duct_velocity,
    hood_flow,
    wheel_exhaust,
)

CAPTURE: Final = CAPTURE_VELOCITIES["high-speed"]
FACE: Final = FACE_VELOCITIES["partial enclosure"]

QUARTER_SOURCE: Final = "NFPA 480:1998, 4-2.6.2, written for magnesium"
"""Clause of the quarter of what can explode; other dusts are held to it as common practice."""

_BY_FAMILY: Final[Mapping[str, WheelKind]] = {
    "coated belt": "belt",
    "coated disc": "horizontal single-spindle disc",
    "fibre disc": "horizontal single-spindle disc",
    "flap disc": "horizontal single-spindle disc",
    "nonwoven disc": "horizontal single-spindle disc",
    "flap wheel": "polishing wheel",
    "nonwoven wheel": "polishing wheel",
    "wire brush": "scratch-brush wheel",
    "abrasive-filament brush": "scratch-brush wheel",
    "buff": "buffing wheel",
    "bonded wheel": "grinding wheel",
    "cut-off wheel": "cutting-off wheel",
    "diamond cut-off wheel": "cutting-off wheel",
}
"""Row of the regulation by abrasive family; orbital pads and cutters have none."""

_GROUND: Final[Mapping[str, str]] = {
    "wood": "very fine",
    "plastic": "dry",
    "glass-fibre": "dry",
    "carbon-fibre": "dry",
    "copper-alloy": "heavy",
}
"""Kind of dust in a duct by what is ground or sanded; other metals are average."""

_CUT: Final[Mapping[str, str]] = {"wood": "dry", "plastic": "dry", "glass-fibre": "dry", "carbon-fibre": "dry"}
"""The same by what is cut; metals are heavy."""


@dataclass(frozen=True)
class Demand:
    """One reason for a flow [m3/s]; `where` names the features it comes from, none where it is the cell."""

    reason: str
    flow: float
    source: str
    where: tuple[str, ...] = ()


def demands(context: Context) -> list[Demand]:
    """Every flow that something asks for."""
    found = [*_by_table(context), *_by_hood(context), *_by_booth(context), *_by_dilution(context)]
    return sorted(found, key=lambda demand: -demand.flow)


def _by_table(context: Context) -> Iterator[Demand]:
    for tool in context.tools:
        kind = _BY_FAMILY.get(tool.family)
        if kind is not None and not _outside(tool, kind):
            found = wheel_exhaust(kind, tool.diameter, tool.width)
            where = dict.fromkeys(work.feature for work in context.works if work.tool.name == tool.name)
            known = from_memory(found.row.grade)
            yield Demand(
                f"exhaust of {tool.name} as {kind}{known}", found.flow, f"{found.table.source}{known}", tuple(where)
            )


def _outside(tool: TurningTool, kind: WheelKind) -> bool:
    return _size(tool, kind) > WHEEL_EXHAUST_TABLES[kind].rows[-1].up_to


def _size(tool: TurningTool, kind: WheelKind) -> float:
    """The size its table is read by [m]."""
    if WHEEL_EXHAUST_TABLES[kind].size == "diameter":
        return tool.diameter
    return tool.width or 0.0


def _by_hood(context: Context) -> Iterator[Demand]:
    own = context.installed
    if own.hood_opening is not None and own.capture_distance is not None:
        flow = float(hood_flow(CAPTURE.low, own.capture_distance, own.hood_opening, own.hood_flanged))
        yield Demand("hood at its distance", flow, CAPTURE.source)


def _by_booth(context: Context) -> Iterator[Demand]:
    if context.installed.booth_opening is not None:
        flow = float(booth_flow(FACE.low, context.installed.booth_opening))
        yield Demand("openings of the enclosure", flow, FACE.source)


def _by_dilution(context: Context) -> Iterator[Demand]:
    least = explosible(context)
    if least is not None:
        flow = float(dilution_flow(context.peak_rate, least))
        reason = "dust in the duct thinned to a quarter of what can explode"
        yield Demand(reason, flow, QUARTER_SOURCE, context.dustiest)


def explosible(context: Context) -> float | None:
    """Lowest minimum explosible concentration of the dusts made [kg/m3]."""
    bands = (family.band("explosible_concentration") for family in context.burning)
    return min((band[0] for band in bands if band is not None), default=None)


def extraction_flow(context: Context) -> Finding | None:
    """The largest flow that something asks for, the reason that sets it first of those told beside it."""
    if context.most_shift_mass <= 0:
        return None
    wanted, flow, own = demands(context), context.installed.extraction_flow, context.installed
    governing = wanted[0] if wanted and _captures(wanted[0], own) else None
    without = tuple(tool.name for tool in context.tools if tool.family not in _BY_FAMILY)
    unread = () if not without else (f"no row in 29 CFR 1910.94(b) for {', '.join(without)}",)
    placed = own.capture_distance is not None or own.booth_opening is not None
    return Finding(
        Comparison("air drawn from the cell", flow, governing.flow if governing else None, "air flow", "at least"),
        where=governing.where if governing else (),
        also=(*(Amount(demand.reason, demand.flow, "air flow") for demand in wanted), *_illustrated(own)),
        assumed=(*unread, *_placing(own)),
        asks=(
            *asked(extraction_flow=flow),
            *(() if placed else asked(capture_distance=None, hood_opening=own.hood_opening, booth_opening=None)),
        ),
        source=governing.source if governing else "",
    )


def _placed(own: Installed) -> bool:
    """Whether it is known where the hood is and how large, or what the enclosure leaves open."""
    return own.booth_opening is not None or (own.capture_distance is not None and own.hood_opening is not None)


def _captures(demand: Demand, own: Installed) -> bool:
    """Whether a flow can be one that catches the dust: thinning it in the duct asks for less than a usual hood."""
    return demand.source != QUARTER_SOURCE or _placed(own) or demand.flow >= _usual_hood(own)


def _usual_hood(own: Installed) -> float:
    """Flow of a hood as usual in what the cell does not state [m3/s]."""
    opening, distance = own.hood_opening or default("hood_opening"), own.capture_distance or default("hood_distance")
    return float(hood_flow(CAPTURE.low, distance, opening, own.hood_flanged))


def _illustrated(own: Installed) -> tuple[Amount, ...]:
    """What a usual hood would draw, for as long as nobody says where the hood is."""
    if _placed(own):
        return ()
    opening, distance = own.hood_opening or default("hood_opening"), own.capture_distance or default("hood_distance")
    told = f"a hood of {units.show(opening, 'large area')}, {units.show(distance, 'length')} away"
    return (Amount(told, _usual_hood(own), "air flow"),)


def _placing(own: Installed) -> tuple[str, ...]:
    """What the demand says of the hood."""
    if own.capture_distance is not None and own.hood_opening is not None:
        return (f"capture at {CAPTURE.low:.2f} m/s, the low end for grinding",)
    if own.booth_opening is not None:
        return ()
    return (
        "the hood's size and distance are not known: work away from it needs more (29 CFR 1910.94(b)(3)(ix))",
        assumption("hood_opening", "large area"),
        assumption("hood_distance", "length"),
    )


def _table_range(context: Context) -> Finding | None:
    for tool in context.tools:
        kind = _BY_FAMILY.get(tool.family)
        if kind is not None and _outside(tool, kind):
            table = WHEEL_EXHAUST_TABLES[kind]
            return Finding(
                Comparison(f"{table.size} of the tool", _size(tool, kind), table.rows[-1].up_to, "length", "at most"),
                where=(tool.name,),
                source=table.source,
            )
    return None


def _capture(context: Context) -> Finding | None:
    own = context.installed
    if context.most_shift_mass <= 0 or (own.booth_opening is not None and own.capture_distance is None):
        return None
    reach = None
    if own.extraction_flow is not None and own.hood_opening is not None:
        reach = [
            float(capture_reach(own.extraction_flow * share, CAPTURE.low, own.hood_opening, own.hood_flanged))
            for share in (1 - HOOD_BAND, 1.0, 1 + HOOD_BAND)
        ]
    low, value, high = reach or (None, None, None)
    return Finding(
        Comparison(
            "distance the hood reaches", value, own.capture_distance, "length", "at least", low=low, high=high
        ),
        also=(Amount("air speed wanted at the tool", CAPTURE.low, "air speed", high=CAPTURE.high), *_illustrated(own)),
        assumed=("equations of hoods are good to about 30 % in a real cell",),
        asks=asked(
            extraction_flow=own.extraction_flow, hood_opening=own.hood_opening, capture_distance=own.capture_distance
        ),
    )  # fmt: skip


def _face(context: Context) -> Finding | None:
    opening, flow = context.installed.booth_opening, context.installed.extraction_flow
    if context.most_shift_mass <= 0 or opening is None:
        return None
    return Finding(
        Comparison("air speed through the openings", None if flow is None else flow / opening, FACE.low, "air speed",
                   "at least"),
        asks=asked(extraction_flow=flow),
        source=FACE.source,
    )  # fmt: skip


def _carried(context: Context) -> DuctVelocity:
    """The heaviest dust in the duct."""
    kinds = (
        _GROUND.get(work.dust, "average") if work.tool.abrasive else _CUT.get(work.dust, "heavy")
        for work in context.works
        if work.most_mass > 0
    )
    return max((DUCT_VELOCITIES[kind] for kind in kinds), key=lambda velocity: velocity.low)


def _duct(context: Context) -> Finding | None:
    if context.most_shift_mass <= 0:
        return None
    own, kind = context.installed, _carried(context)
    least, source = kind.low, kind.source
    if LIGHT_METALS & set(context.dusts):
        governing = LIGHT_METAL_VELOCITY.governing
        least, source = governing.value, governing.source
    velocity = None
    if own.extraction_flow is not None and own.duct_diameter is not None:
        velocity = float(duct_velocity(own.extraction_flow, own.duct_diameter))
    return Finding(
        Comparison("air speed in the duct", velocity, least, "air speed", "at least"),
        also=(_widest(context, least),),
        asks=asked(extraction_flow=own.extraction_flow, duct_diameter=own.duct_diameter),
        source=source,
    )


def _widest(context: Context, least: float) -> Amount:
    """Duct that keeps to an air speed at the flow stated, else at the most that is asked for."""
    own = context.installed
    asked_for = [*(demand.flow for demand in demands(context)), *(() if _placed(own) else (_usual_hood(own),))]
    flow = own.extraction_flow or max(asked_for)
    return Amount(f"widest duct for {units.show(flow, 'air flow')}", float(duct_diameter(flow, least)), "length")


EXTRACTION_RULES: Final[tuple[Rule[Context], ...]] = (
    Rule(
        "extraction-flow", "dust", "Air the extraction has to draw",
        "ACGIH, Industrial Ventilation, chapter on hoods", AUTHORITY,
        "Measure the flow at the hood with the filter as loaded as it gets.",
        extraction_flow,
    ),
    Rule(
        "exhaust-table", "dust", "Tool beyond the tables of exhaust volumes",
        "29 CFR 1910.94(b)(3)", AUTHORITY,
        "The tables end below this size and are not extrapolated: ask the authority, design by capture.",
        _table_range, "check",
    ),
    Rule(
        "capture-reach", "dust", "Hood within reach of the tool",
        "DallaValle, Exhaust Hoods, 1945; ACGIH, Industrial Ventilation, chapter on hoods", AUTHORITY,
        "Show with smoke that the hood takes the dust in over the whole path, robot in front of it.",
        _capture,
    ),
    Rule(
        "face-velocity", "dust", "Inward air at the openings of the enclosure",
        FACE.source, AUTHORITY,
        "Measure the air speed over the openings with doors as they stand in production.",
        _face,
    ),
    Rule(
        "duct-velocity", "dust", "Air speed that keeps the duct clear",
        "ACGIH, Industrial Ventilation, table of minimum duct design velocities", AUTHORITY,
        "Look into the duct at bends and dead legs after a week of running.",
        _duct,
    ),
)  # fmt: skip
