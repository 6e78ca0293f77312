"""Rules on dust that people breathe: how much of it there is, and what limits what it holds."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Final

from finishplan.hazards.context import Context, Work
from finishplan.hazards.dusts import SUBSTANCES
from finishplan.hazards.note import Amount, Comparison, Finding, Provision, Rule
from finishplan.hazards.wording import AUTHORITY, HYGIENIST, asked, remembered
from finishplan.physics.dust import GoverningLimit, exposure_limits, governing_limit, lead_limit
from finishplan.physics.sourced import Sourced
from finishplan.physics.ventilation import dilution_flow

MIXTURE_CUT_OFF: Final = Sourced(0.001, "29 CFR 1910.1200, Appendix A, Table A.6.1", "from memory")
"""Share from which a carcinogen counts in a mixture [1]."""

BERYLLIUM_CUT_OFF: Final = Sourced(0.001, "29 CFR 1910.1024, Appendix A, Table A.1")
"""Share of beryllium from which finishing makes a beryllium work area [1]."""

GLASS_FIBRES: Final = 3e6
"""Limit of glass fibres, NIOSH Pocket Guide to Chemical Hazards, fibrous glass dust [1/m3]."""

FILLED: Final = ("primer", "gel-coat")
"""Groups of coatings that are filled with minerals as a rule."""


def limit_of(shares: Mapping[str, float]) -> GoverningLimit:
    """The limit a dust of these constituents meets first."""
    return governing_limit({SUBSTANCES.get(name, name): share for name, share in shares.items()})


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
            Amount("parts in a shift without a break", int(context.parts_per_shift)),
        ),
        assumed=("everything taken off counts as dust, chips too", "the cell works the whole shift"),
        asks=asked(collector_capacity=capacity),
    )


def _exposure(context: Context) -> Finding | None:
    groups = {work.group for work in context.works if work.most_mass > 0 and work.dust != "wood"}
    return _held_to(context, {group: context.compositions[group] for group in sorted(groups)})


def _wood(context: Context) -> Finding | None:
    groups = {work.group for work in context.works if work.most_mass > 0 and work.dust == "wood"}
    found = _held_to(context, {group: context.compositions[group] for group in sorted(groups)})
    if found is None:
        return None
    by_species = (
        Amount(f"limit of {row.authority}, {row.substance}", row.value, "exposure")
        for name in ("hardwood", "western red cedar")
        for row in exposure_limits(name)
    )
    return Finding(found.compared, found.where, (*found.also, *by_species), (), found.asks, found.source)


def _held_to(context: Context, compositions: Mapping[str, Mapping[str, float]]) -> Finding | None:
    """The breathing zone against the lowest limit over the groups worked."""
    if not compositions:
        return None
    group, limit = min(
        ((group, limit_of(shares)) for group, shares in compositions.items()),
        key=lambda found: found[1].dust_concentration,
    )
    air = float(dilution_flow(context.most_shift_mass / context.shift, limit.dust_concentration, 1.0))
    own = limit.limit
    told = () if context.certified or not compositions[group] else (f"composition usual of {group}",)
    sample = context.installed.dust_sample
    return Finding(
        Comparison(
            "dust in the breathing zone over the shift", sample, limit.dust_concentration, "exposure", "at most"
        ),
        where=tuple(dict.fromkeys(work.feature for work in context.works if work.group == group)),
        also=(
            Amount(f"governing: {own.substance}, {own.authority}, {own.kind}, {own.fraction}", own.value, "exposure"),
            Amount("its share of the dust", limit.mass_share, "small share"),
            Amount("air that would thin all of the dust to the limit", air, "air flow"),
        ),
        assumed=(
            *told,
            "a constituent is the same share of the airborne dust as of the material",
            *remembered(own.grade),
        ),
        asks=(*asked(dust_sample=sample), *(() if not told else ("part.composition",))),
        source=own.source,
    )


def _shares(context: Context, constituent: str, cut_off: Sourced = MIXTURE_CUT_OFF) -> dict[str, float]:
    """Shares of a constituent by feature, where it counts."""
    shares = {work.feature: _share(context, work, constituent) for work in context.works if work.most_mass > 0}
    return {feature: share for feature, share in shares.items() if share >= cut_off.value}


def _share(context: Context, work: Work, constituent: str) -> float:
    return context.compositions[work.group].get(constituent, 0.0)


def _constituent(constituent: str, cut_off: Sourced, context: Context) -> Finding | None:
    """A constituent above the share from which it counts."""
    shares = _shares(context, constituent, cut_off)
    if not shares:
        return None
    limit = limit_of({constituent: max(shares.values())})
    told = Amount("dust at which the lowest limit is met", limit.dust_concentration, "exposure")
    return _counting(constituent, shares, cut_off, (told,), certified=context.certified)


def _chromium_six(context: Context) -> Finding | None:
    shares = _shares(context, "chromium")
    if not shares:
        return None
    told = tuple(
        Amount(f"limit of {row.authority}, {row.kind}", row.value, "exposure")
        for row in exposure_limits("chromium(VI)")
    )
    return _counting("chromium", shares, MIXTURE_CUT_OFF, told, certified=context.certified)


def _counting(
    constituent: str, shares: Mapping[str, float], cut_off: Sourced, also: tuple[Amount, ...], *, certified: bool
) -> Finding:
    """A constituent that counts, with what its own limits are."""
    told = () if certified else ("composition usual of the group; a certificate tells",)
    return Finding(
        Comparison(
            f"share of {constituent} in the material", max(shares.values()), cut_off.value, "small share", "at most"
        ),
        where=tuple(shares),
        also=also,
        assumed=(*told, *remembered(cut_off.grade)),
        asks=() if certified else ("part.composition",),
    )


def _coating_content(context: Context) -> Finding | None:
    where = _coated(context, ("primer", "paint", "clearcoat", "gel-coat"))
    if not where:
        return None
    content = context.coating_content
    found = None if content is None else ", ".join(name for name in content if name in ("lead", "chromate")) or "none"
    limit = float(lead_limit(context.shift))
    return Finding(
        _tested("lead and chromate in the coating", found),
        where=where,
        also=(
            Amount("limit for lead at this shift", limit, "exposure"),
            *(
                Amount(f"limit for chromium(VI), {row.authority}, {row.kind}", row.value, "exposure")
                for row in exposure_limits("chromium(VI)", ("OSHA", "NIOSH"))
            ),
        ),
        asks=() if content is not None else ("part.coating_content",),
    )


def _silica(context: Context) -> Finding | None:
    where = (*_coated(context, FILLED), *_shares(context, "silica"))
    if not where:
        return None
    content = context.coating_content
    known = bool(_shares(context, "silica")) or (content is not None and "silica" in content)
    stated = "silica" if known else None if content is None else "none"
    return Finding(
        _tested("crystalline silica in filler or coating", stated),
        where=tuple(dict.fromkeys(where)),
        also=tuple(
            Amount(f"limit of {row.authority}, {row.kind}, respirable", row.value, "exposure")
            for row in exposure_limits("crystalline silica")
        ),
        asks=() if stated else ("part.coating_content",),
    )


def _tested(what: str, found: str | None) -> Provision:
    """What a test of a coating found, which ought to be none."""
    return Provision(what, found, "tested, none found", None if found is None else found == "none")


def _coated(context: Context, groups: tuple[str, ...]) -> tuple[str, ...]:
    """Features whose coating is of one of the groups."""
    return tuple(dict.fromkeys(work.feature for work in context.works if work.coating in groups and work.most_mass > 0))


def _glass_fibre(context: Context) -> Finding | None:
    if "glass-fibre" not in context.dusts:
        return None
    count = context.installed.fibre_count
    (total,) = exposure_limits("glass fibre")
    return Finding(
        Comparison("fibres in the breathing zone", count, GLASS_FIBRES, "fibre count", "at most"),
        where=context.features_with("glass-fibre"),
        also=(Amount("limit of NIOSH, total dust", total.value, "exposure"),),
        asks=asked(fibre_count=count),
    )


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
    Rule(
        "nickel", "dust", "Nickel in the dust",
        "29 CFR 1910.1200, Appendix A, Table A.6.1; NIOSH Pocket Guide", HYGIENIST,
        "Have the sample analysed for nickel; keep skin off the dust.",
        partial(_constituent, "nickel", MIXTURE_CUT_OFF), "check",
    ),
    Rule(
        "chromium-hexavalent", "dust", "Chromium, hexavalent where it gets hot",
        "29 CFR 1910.1026", HYGIENIST,
        "Have the sample analysed for chromium(VI), above all where grinding colours the metal.",
        _chromium_six, "check",
    ),
    Rule(
        "cobalt", "dust", "Cobalt in the dust",
        "29 CFR 1910.1200, Appendix A, Table A.6.1; 29 CFR 1910.1000, Table Z-1", HYGIENIST,
        "Have the sample analysed for cobalt; dust of ground carbide tools counts too.",
        partial(_constituent, "cobalt", MIXTURE_CUT_OFF), "check",
    ),
    Rule(
        "beryllium", "dust", "Beryllium in the alloy",
        "29 CFR 1910.1024, Appendix A, Table A.1", HYGIENIST,
        "Deburring, grinding and sanding make a beryllium work area from 0.1 % on: zones, clothing, medical checks.",
        partial(_constituent, "beryllium", BERYLLIUM_CUT_OFF),
    ),
    Rule(
        "lead", "dust", "Lead in the alloy",
        "29 CFR 1910.1025(d)", HYGIENIST,
        "Make the initial determination by sampling; no eating or dry sweeping near the cell.",
        partial(_constituent, "lead", MIXTURE_CUT_OFF), "check",
    ),
    Rule(
        "coating-content", "dust", "Lead and chromate in the coating",
        "29 CFR 1910.1025; 29 CFR 1910.1026", HYGIENIST,
        "Have the coating tested before it is sanded; a data sheet of the maker may do.",
        _coating_content,
    ),
    Rule(
        "silica", "dust", "Silica in filler or coating",
        "29 CFR 1910.1053(c) and (d)", HYGIENIST,
        "Ask the maker for the filler; assess the exposure to respirable crystalline silica.",
        _silica,
    ),
    Rule(
        "glass-fibre", "dust", "Glass fibre in air and on skin",
        "NIOSH Pocket Guide to Chemical Hazards, fibrous glass dust", HYGIENIST,
        "Count fibres at loading; provide gloves and cover for skin and eyes where parts are handled.",
        _glass_fibre,
    ),
)  # fmt: skip
