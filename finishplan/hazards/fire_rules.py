"""Rules on dust that burns or explodes, on sparks, water and what puts a fire out."""

from __future__ import annotations

from itertools import combinations
from typing import Final

from finishplan import units
from finishplan.hazards.context import Context
from finishplan.hazards.dusts import LIGHT_METALS, SPARKING, mixed_badly
from finishplan.hazards.extraction_rules import QUARTER_SOURCE, explosible
from finishplan.hazards.note import Amount, Comparison, Finding, Provision, Rule
from finishplan.hazards.wording import FIRE_EXPERT, NO_TIME_LOST, asked, assumption, default, provided
from finishplan.physics.dust import (
    EARTHING_ENERGY,
    REPORTED_LAYER,
    STATIC_CRITICAL_ENERGY,
    WATER_REACTIONS,
    DustFamily,
    duct_concentration,
    hydrogen_volume,
    layer_criterion,
    layer_trigger_area,
    st_class,
)
from finishplan.physics.dust.families import Property
from finishplan.physics.ventilation import dilution_flow

QUARTER: Final = 0.25
"""Share of what can explode that is allowed: NFPA 480:1998, 4-2.6.2 [1]."""

HYDROGEN_LIMIT: Final = 0.04
"""Least share of hydrogen in air that can explode: DGUV Regel 109-001, February 2008, 3.2 [1]."""

LAYER_DENSITY: Final = 1200.0
"""Bulk density the layer criterion is stated for; lighter dust may lie thicker at the same mass [kg/m3]."""

DUST_TIGHT: Final = 6
"""First digit of the IP code of an enclosure that no dust gets into: IEC 60529."""


_STATIC: Final = (EARTHING_ENERGY, STATIC_CRITICAL_ENERGY)


def _bands(family: DustFamily) -> tuple[Amount, ...]:
    """What the samples of a family give, from low to high."""
    told: tuple[tuple[str, Property, str], ...] = (
        ("largest pressure", "pressure", "explosion pressure"),
        ("least concentration that explodes", "explosible_concentration", "dust concentration"),
        ("least energy that ignites", "ignition_energy", "ignition energy"),
        ("temperature that ignites a cloud", "cloud_temperature", "temperature"),
    )
    found = []
    for label, quantity, kind in told:
        band = family.band(quantity)
        if band is not None:
            found.append(Amount(f"{label}, {family.name}", band[0], kind, high=band[1]))
    return tuple(found)


def _combustible(context: Context) -> Finding | None:
    known = {family: band for family in context.burning if (band := family.band("deflagration_index")) is not None}
    if not known:
        return None
    family = max(known, key=lambda each: known[each][1])
    low, high = known[family]
    classes = dict.fromkeys((st_class(low), st_class(high)))
    return Finding(
        Comparison(
            f"Kst of {family.name} dust, worst sample", high, 0.0, "explosion index", "counts from", low=low, high=high
        ),
        also=(Amount("class", " to ".join(classes)), *(amount for each in context.burning for amount in _bands(each))),
        assumed=(
            "figures of other people's samples; fineness and moisture shift them tenfold",
            *(f"{each.name}: {_tested_by(each)}" for each in context.burning),
            *(each.remark for each in context.burning if each.remark),
        ),
    )  # fmt: skip


def _tested_by(family: DustFamily) -> str:
    """The publications behind the figures of a family, and how well they are known."""
    return "; ".join(dict.fromkeys(f"{sample.source} ({sample.grade})" for sample in family.samples))


def _earthing(context: Context) -> Finding | None:
    energies = [band[0] for family in context.burning if (band := family.band("ignition_energy")) is not None]
    if not energies or min(energies) >= EARTHING_ENERGY.value:
        return None
    return Finding(
        provided("tool, hood, duct and collector bonded and earthed", context.installed.grounded, "yes"),
        also=(
            Amount("least energy that ignites the dust", min(energies), "ignition energy"),
            Amount("people and tools are earthed below", EARTHING_ENERGY.value, "ignition energy"),
            Amount("any static discharge counts below", STATIC_CRITICAL_ENERGY.value, "ignition energy"),
        ),
        assumed=tuple(f"{units.show(each.value, 'ignition energy')}: {each.source} ({each.grade})" for each in _STATIC),
        asks=asked(grounded=context.installed.grounded),
    )


def _dilution(context: Context) -> Finding | None:
    least, flow = explosible(context), context.installed.extraction_flow
    if least is None or context.peak_rate <= 0:
        return None
    value = None if flow is None else float(duct_concentration(context.peak_rate, flow))
    return Finding(
        Comparison("dust in the duct, all of it taken in", value, QUARTER * least, "dust concentration", "at most"),
        also=(
            Amount("dustiest step, in contact", context.peak_rate, "mass rate"),
            Amount("air that keeps to it", float(dilution_flow(context.peak_rate, least)), "air flow"),
        ),
        assumed=("settled dust that comes loose at once is not counted", *_quarter(context)),
        asks=asked(extraction_flow=flow),
    )


def _quarter(context: Context) -> tuple[str, ...]:
    """What the clause of the quarter was written for."""
    if context.dusts == ("magnesium",):
        return ()
    return ("the clause is one for magnesium; holding other dusts to it is common practice",)


def _collector_kind(context: Context) -> Finding | None:
    if not LIGHT_METALS & set(context.dusts):
        return None
    kind = context.installed.collector
    return Finding(
        Provision("dust collector", kind, "wet, or dry and outdoors", None if kind is None else kind != "dry indoors"),
        asks=asked(collector=kind),
    )


def _sharing(context: Context) -> Finding | None:
    others = context.installed.collector_shared_with
    met_there = {*context.dusts, *(others or ())}
    bad = [f"{one} with {other}" for one, other in combinations(sorted(met_there), 2) if mixed_badly(one, other)]
    if not context.burning and not bad:
        return None
    stated = "; ".join(bad) or (None if others is None else "none that clash")
    return Finding(
        Provision("dusts that meet in the collector", stated, "none that clash", not bad if stated else None),
        also=(Amount("dust of this job", ", ".join(context.dusts)),),
        asks=asked(collector_shared_with=others),
    )


def _hydrogen(context: Context) -> Finding | None:
    reactions = [WATER_REACTIONS[each.name] for each in context.burning if each.name in WATER_REACTIONS]
    if not reactions or context.installed.collector not in (None, "wet"):
        return None
    mass, vent = context.most_shift_mass, context.installed.collector_vent_flow
    volume = max(float(hydrogen_volume(mass, each.molar_mass, each.valence)) for each in reactions)
    needed = volume / context.shift / (QUARTER * HYDROGEN_LIMIT)
    return Finding(
        Comparison("air that vents the wet collector", vent, needed, "air flow", "at least"),
        also=(Amount("hydrogen from a shift's dust, at most", volume, "gas volume"),),
        assumed=(
            "all dust reacts to the end, evenly over the shift",
            NO_TIME_LOST,
            f"vented to a quarter of the {HYDROGEN_LIMIT:.0%} that can explode: common practice",
        ),
        asks=asked(collector=context.installed.collector, collector_vent_flow=vent),
    )


def _sparks(context: Context) -> Finding | None:
    grinding = [work for work in context.works if work.tool.abrasive and work.dust in SPARKING and work.most_mass > 0]
    if not grinding or context.installed.collector == "wet":
        return None
    return Finding(
        provided("spark trap before the collector", context.installed.spark_trap, "yes, or a wet collector"),
        where=tuple(dict.fromkeys(work.feature for work in grinding)),
        also=(Amount("power turned into sparks and heat, at most", max(work.power for work in grinding), "power"),),
        asks=asked(spark_trap=context.installed.spark_trap, collector=context.installed.collector),
    )


def _agent(context: Context) -> Finding | None:
    if not LIGHT_METALS & set(context.dusts):
        return None
    agent = context.installed.extinguishing_agent
    return Finding(
        Provision(
            "extinguishing agent at the cell", agent, "class D or dry sand",
            None if agent is None else agent in ("class D", "dry sand"),
        ),
        asks=asked(extinguishing_agent=agent),
    )  # fmt: skip


def _conductive(context: Context) -> Finding | None:
    families = [family.name for family in context.burning if family.conductive]
    if not families:
        return None
    digit = context.installed.cabinet_protection
    stated, met = (None, None) if digit is None else (f"IP{digit}X", digit >= DUST_TIGHT)
    return Finding(
        Provision("cabinets in the dust", stated, f"IP{DUST_TIGHT}X", met),
        also=(Amount("dust that conducts", ", ".join(families)),),
        asks=asked(cabinet_protection=digit),
    )


def _protection(context: Context) -> Finding | None:
    kind, stated = context.installed.collector, context.installed.collector_protected
    if not context.burning or kind == "wet":
        return None
    bands = (family.band("pressure") for family in context.burning)
    pressure = max((band[1] for band in bands if band is not None), default=None)
    return Finding(
        provided("collector vented or suppressed, and cut off from the duct", stated, "yes, or a wet collector"),
        also=() if pressure is None else (Amount("pressure it would have to hold", pressure, "explosion pressure"),),
        asks=asked(collector_protected=stated, collector=kind),
    )


def _layer(context: Context) -> Finding | None:
    if not context.burning:
        return None
    own = context.installed
    floor = own.floor_area or default("room_floor_area")
    area, thickness = float(layer_trigger_area(floor)), float(layer_criterion(LAYER_DENSITY))
    thinnest = REPORTED_LAYER.governing
    mass = thickness * LAYER_DENSITY * area
    return Finding(
        Comparison(
            "dust of a shift, were all of it to settle", context.shift_mass, mass, "dust mass", "counts from",
            high=context.most_shift_mass,
        ),
        also=(
            *_settling(mass / context.most_shift_mass),
            Amount("layer that counts, at 1200 kg/m3", thickness, "length"),
            *_own_layer(own.dust_bulk_density),
            Amount(f"layer to evaluate from, {thinnest.source}", thinnest.value, "length"),
            Amount("area that may lie under it", area, "large area"),
        ),
        assumed=(NO_TIME_LOST, *(() if own.floor_area else (assumption("room_floor_area", "large area"),))),
        asks=asked(floor_area=own.floor_area, dust_bulk_density=own.dust_bulk_density),
    )  # fmt: skip


def _settling(share: float) -> tuple[Amount, ...]:
    """How much of a shift's dust may settle, where less than all of it does harm."""
    return (Amount("share of it that may settle between cleanings", share, "small share"),) if share < 1 else ()


def _own_layer(density: float | None) -> tuple[Amount, ...]:
    """The layer of the plant's own dust; above the density of the criterion no correction is made."""
    if density is None:
        return ()
    thickness = float(layer_criterion(min(density, LAYER_DENSITY)))
    return (Amount("layer that counts, at the density stated", thickness, "length"),)


FIRE_RULES: Final[tuple[Rule[Context], ...]] = (
    Rule(
        "combustible-dust", "fire", "Dust that can explode",
        "NFPA 660:2025; OSHA CPL 03-00-008, Combustible Dust National Emphasis Program", FIRE_EXPERT,
        "Has a dust hazard analysis been made, and the plant's own dust been tested?",
        _combustible, "check",
    ),
    Rule(
        "earthing", "fire", "Static sparks and earthing",
        "NFPA 480:1998, 4-2.6.3, written for magnesium", FIRE_EXPERT,
        "Measure the resistance to earth of hose, hood and duct: is every hose a conductive one?",
        _earthing,
    ),
    Rule(
        "duct-dilution", "fire", "Dust in the duct against what can explode",
        QUARTER_SOURCE, FIRE_EXPERT,
        "Does the tool stop when the flow falls? Interlock the one with the other.",
        _dilution, "stop",
    ),
    Rule(
        "collector-kind", "fire", "Collector for light metal dust",
        "NFPA 480:1998, 4-2.5, written for magnesium; DGUV Regel 109-001, February 2008, 4.2.1", FIRE_EXPERT,
        "Where does the collector stand, how is it vented, and does air come back into the hall?",
        _collector_kind, "stop",
    ),
    Rule(
        "collector-sharing", "fire", "Dusts that must not meet in a collector",
        "NFPA 480:1998, 4-2.4.8; DGUV Regel 109-001, February 2008, 4.3.3.2", FIRE_EXPERT,
        "What else is led to this collector, now and after a change of job? Strip and clean it between metals.",
        _sharing, "stop",
    ),
    Rule(
        "collector-protection", "fire", "Explosion in the collector and back through the duct",
        "NFPA 660:2025, protection and isolation of collectors; CSB 2004-01-I-IN (both from memory)", FIRE_EXPERT,
        "Where does the vent point, what cuts the duct off, and does cleaned air come back into the hall?",
        _protection,
    ),
    Rule(
        "hydrogen", "fire", "Hydrogen from wet light metal dust",
        "DGUV Regel 109-001, February 2008, 3.2", FIRE_EXPERT,
        "Is the wet collector vented while it stands, and is the sludge kept in vented drums?",
        _hydrogen,
    ),
    Rule(
        "sparks", "fire", "Grinding sparks in the extraction",
        "common practice, no published source; NFPA 660:2025 on ignition sources (from memory)", FIRE_EXPERT,
        "Can a spark reach the filter or a heap of dust?",
        _sparks,
    ),
    Rule(
        "extinguishing", "fire", "What puts a metal fire out",
        "NFPA 660:2025, chapter 22 (from memory); DGUV Regel 109-001, February 2008, 3.2", FIRE_EXPERT,
        "No water, no carbon dioxide on burning light metal: is the agent at hand and are people taught?",
        _agent,
    ),
    Rule(
        "conductive-dust", "fire", "Conductive dust in electrical cabinets",
        "IEC 60079-0, group IIIC, and IEC 60529, first numeral 6 (clauses from memory)", FIRE_EXPERT,
        "Are cabinets and drives in the dust closed to it, and vacuumed, never blown clean?",
        _conductive,
    ),
    Rule(
        "dust-layer", "fire", "Settled dust in the room",
        "NFPA 654:2013, 6.1", FIRE_EXPERT,
        "How often are floor, ledges and beams vacuumed, and with what?",
        _layer, "check",
    ),
)  # fmt: skip
