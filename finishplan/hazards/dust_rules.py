"""Rules on the dust as a whole: how much of it there is, and how much of it people may breathe."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Final

from finishplan.hazards.context import Context
from finishplan.hazards.dusts import STAND_INS, SUBSTANCES
from finishplan.hazards.note import Amount, Comparison, Finding, Rule
from finishplan.hazards.wording import AUTHORITY, HYGIENIST, NO_TIME_LOST, asked, limits_told, remembered
from finishplan.physics.dust import (
    AUTHORITIES,
    NUISANCE,
    ExposureLimit,
    GoverningLimit,
    added_limit,
    exposure_limits,
    governing_limit,
)
from finishplan.physics.sourced import Grade
from finishplan.physics.ventilation import dilution_flow

BOARDS: Final = "board"
"""Group of wood that is glued."""

ADDED: Final = ExposureLimit("all constituents together", "OSHA", 0.0, source="29 CFR 1910.1000(d)(2)(i)")
"""The law's rule for mixtures, where it asks for more than any single limit."""


def _amount(context: Context) -> Finding | None:
    if context.most_shift_mass <= 0:
        return None
    capacity = context.installed.collector_capacity
    return Finding(
        Comparison(
            "dust of a shift", context.shift_mass, capacity, "dust mass", "at most", high=context.most_shift_mass
        ),
        also=(
            Amount("dustiest step, in contact", context.peak_rate, "mass rate"),
            Amount("parts in a shift, as planned", int(context.parts_per_shift)),
            Amount("parts in a shift, no time lost between them", int(context.most_parts_per_shift)),
        ),
        assumed=(
            "everything taken off counts as dust, chips too",
            "the cell works the whole shift",
            NO_TIME_LOST,
        ),
        asks=asked(collector_capacity=capacity, shift_length=context.installed.shift_length),
    )


def _exposure(context: Context) -> Finding | None:
    groups = {work.group for work in context.works if work.most_mass > 0 and work.dust != "wood"}
    return _held_to(context, {group: context.compositions[group] for group in sorted(groups)})


def _wood(context: Context) -> Finding | None:
    groups = {work.group for work in context.works if work.most_mass > 0 and work.dust == "wood"}
    found = _held_to(context, {group: context.compositions[group] for group in sorted(groups)})
    if found is None:
        return None
    by_species = (*limits_told("hardwood", "hardwood: "), *limits_told("western red cedar", "western red cedar: "))
    glued = ("the binder of a board has limits of its own: formaldehyde, 29 CFR 1910.1048 (from memory)",)
    return replace(
        found,
        also=(*found.also, *by_species),
        assumed=(*found.assumed, *(glued if BOARDS in groups else ())),
    )


def _held_to(context: Context, compositions: Mapping[str, Mapping[str, float]]) -> Finding | None:
    """The breathing zone against the lowest limit over the groups worked."""
    if not compositions:
        return None
    group, limit = min(
        ((group, _lowest(_substances(shares))) for group, shares in compositions.items()),
        key=lambda found: found[1].dust_concentration,
    )
    shares, own, sample = compositions[group], limit.limit, context.installed.dust_sample
    usual = not context.certified and any(share < 1 for share in shares.values())
    air = float(dilution_flow(context.most_shift_mass / context.shift, limit.dust_concentration, 1.0))
    return Finding(
        Comparison(
            "dust in the breathing zone over the shift", sample, limit.dust_concentration, "exposure", "at most"
        ),
        where=tuple(dict.fromkeys(work.feature for work in context.works if work.group == group)),
        also=(
            *_governing(limit),
            *_by_authority(_substances(shares)),
            Amount("air that would thin all of the dust to the limit", air, "air flow"),
        ),
        assumed=(
            *_premises(shares, usual=usual, coated=_is_coating(context, group)),
            NO_TIME_LOST,
            *remembered(own.grade),
        ),
        asks=(*asked(dust_sample=sample), *(("part.composition",) if usual else ())),
        source=own.source,
    )


def _substances(shares: Mapping[str, float]) -> dict[str, float]:
    return {SUBSTANCES.get(name, name): share for name, share in shares.items()}


def _lowest(shares: Mapping[str, float]) -> GoverningLimit:
    """The limit a dust of these constituents meets first: of one of them, or of all together."""
    single, together = governing_limit(shares), added_limit(shares)
    if together is None or together >= single.dust_concentration:
        return single
    grades = {row.grade for substance in shares for row in exposure_limits(substance, (ADDED.authority,))}
    worst: Grade = "from memory" if "from memory" in grades else "published"
    return GoverningLimit(together, 1.0, replace(ADDED, value=together, grade=worst))


def _governing(limit: GoverningLimit) -> Iterator[Amount]:
    own = limit.limit
    yield Amount(f"governing: {own.substance}, {own.authority}, {own.kind}, {own.fraction}", own.value, "exposure")
    yield Amount("its share of the dust", limit.mass_share, "small share")


def _by_authority(shares: Mapping[str, float]) -> Iterator[Amount]:
    """The dust each authority would allow, one constituent at a time, and the law for all of them together."""
    for authority in AUTHORITIES:
        if any(exposure_limits(substance, (authority,)) for substance in (NUISANCE, *shares)):
            found = governing_limit(shares, (authority,))
            yield Amount(f"dust by {authority}, for its {found.limit.substance}", found.dust_concentration, "exposure")
    together = added_limit(shares)
    if together is not None and len(shares) > 1:
        yield Amount(f"dust by OSHA, constituents added, {ADDED.source}", together, "exposure")


def _premises(shares: Mapping[str, float], *, usual: bool, coated: bool) -> Iterator[str]:
    """What the limit of a mixed dust rests on."""
    if usual:
        yield "composition usual of its group of materials; a certificate tells"
    if coated:
        yield "a coating without lead, chromate and silica: what a test finds lowers the limit"
    yield "a constituent is the same share of the airborne dust as of the material"
    yield "a limit for respirable dust is set against the whole dust: the stricter reading"
    for name in sorted(STAND_INS & shares.keys()):
        yield f"{name.replace('_', ' ')} has no limit of its own: that of {SUBSTANCES[name]} stands in for it"


def _is_coating(context: Context, group: str) -> bool:
    return any(work.coating == group for work in context.works)


DUST_RULES: Final[tuple[Rule[Context], ...]] = (
    Rule(
        "dust-amount", "dust", "Dust made in a shift",
        "mass balance of the planned removal", AUTHORITY,
        "Does the collector hold a shift's dust, and who empties it when?",
        _amount,
    ),
    Rule(
        "dust-exposure", "dust", "Exposure limit of what the dust holds",
        "29 CFR 1910.1000, Table Z-1", HYGIENIST,
        "Sample the breathing zone at loading, at emptying and beside the running cell.",
        _exposure,
    ),
    Rule(
        "wood-dust", "dust", "Wood dust and its limit by species",
        "Directive 2004/37/EC, Annex III; NIOSH Pocket Guide", HYGIENIST,
        "Which species is it? Hardwood in a mix sets the limit for all of it; red cedar has one of its own.",
        _wood,
    ),
)  # fmt: skip
