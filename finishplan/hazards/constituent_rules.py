"""Rules on what the dust holds: metals that harm, lead and chromate in coatings, silica, fibres."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Final

from finishplan.hazards.context import Context
from finishplan.hazards.dusts import SUBSTANCES
from finishplan.hazards.note import Amount, Comparison, Finding, Provision, Rule
from finishplan.hazards.wording import HYGIENIST, asked, limits_told, remembered
from finishplan.physics.dust import exposure_limits, governing_limit, lead_limit
from finishplan.physics.sourced import Sourced

MIXTURE_CUT_OFF: Final = Sourced(0.001, "29 CFR 1910.1200, Appendix A, Table A.6.1", "from memory")
"""Share from which a carcinogen counts in a mixture [1]."""

BERYLLIUM_CUT_OFF: Final = Sourced(0.001, "29 CFR 1910.1024, Appendix A, Table A.1")
"""Share of beryllium from which finishing makes a beryllium work area [1]."""

GLASS_FIBRES: Final = 3e6
"""Limit of glass fibres, NIOSH Pocket Guide to Chemical Hazards, fibrous glass dust [1/m3]."""

COATINGS: Final = ("primer", "paint", "clearcoat", "gel-coat")
FILLED: Final = ("primer", "gel-coat")
"""Groups of coatings that are filled with minerals as a rule."""

FILLED_MATERIALS: Final = ("gfrp",)
"""Groups of materials whose resin is often filled."""


def _shares(context: Context, constituent: str, cut_off: Sourced = MIXTURE_CUT_OFF) -> dict[str, float]:
    """Shares of a constituent by feature, where it counts."""
    held = {
        work.feature: context.compositions[work.group].get(constituent, 0.0)
        for work in context.works
        if work.most_mass > 0
    }
    return {feature: share for feature, share in held.items() if share >= cut_off.value}


def _constituent(constituent: str, substance: str, cut_off: Sourced, context: Context) -> Finding | None:
    """A constituent from the share on from which it counts, with every limit of what is sampled for."""
    shares = _shares(context, constituent, cut_off)
    if not shares:
        return None
    told = () if context.certified else ("composition usual of its group of materials; a certificate tells",)
    return Finding(
        Comparison(
            f"share of {constituent} in the material", max(shares.values()), cut_off.value, "small share",
            "counts from",
        ),
        where=tuple(shares),
        also=(*_dust_at_limit(constituent, substance, shares), *limits_told(substance)),
        assumed=(*told, *remembered(cut_off.grade)),
        asks=() if context.certified else ("part.composition",),
    )  # fmt: skip


def _dust_at_limit(constituent: str, substance: str, shares: Mapping[str, float]) -> tuple[Amount, ...]:
    """The dust that meets the lowest limit; unknown where the constituent changes into what is limited."""
    if constituent != substance:
        return ()
    limit = governing_limit({substance: max(shares.values())})
    return (Amount(f"dust at the limit of {limit.limit.authority}", limit.dust_concentration, "exposure"),)


def _coating_content(context: Context) -> Finding | None:
    where = _coated(context, COATINGS)
    if not where:
        return None
    content = context.coating_content
    found = None if content is None else ", ".join(name for name in content if name in ("lead", "chromate")) or "none"
    return Finding(
        _tested("lead and chromate in the coating", found),
        where=where,
        also=(
            Amount("lead, OSHA, over this shift", float(lead_limit(context.shift)), "exposure"),
            *limits_told("lead", "lead, "),
            *limits_told("chromium(VI)", "chromium(VI), "),
        ),
        asks=() if content is not None else ("part.coating_content",),
    )


def _silica(context: Context) -> Finding | None:
    coated, holding = _coated(context, FILLED), _shares(context, "silica")
    filled = tuple(work.feature for work in context.works if work.group in FILLED_MATERIALS and work.most_mass > 0)
    where = tuple(dict.fromkeys((*coated, *holding, *filled)))
    if not where:
        return None
    content = context.coating_content
    unknown = [
        key
        for key, open_ in (
            ("part.coating_content", coated and content is None),
            ("part.composition", filled and not context.certified),
        )
        if open_
    ]
    known = bool(holding) or (content is not None and "silica" in content)
    stated = "silica" if known else None if unknown else "none"
    return Finding(
        _tested("crystalline silica in filler or coating", stated),
        where=where,
        also=limits_told("crystalline silica"),
        asks=() if stated else tuple(unknown),
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
    return Finding(
        Comparison("fibres in the breathing zone", count, GLASS_FIBRES, "fibre count", "at most"),
        where=context.features_with("glass-fibre"),
        also=limits_told("glass fibre"),
        asks=asked(fibre_count=count),
    )


def _carbon_fibre(context: Context) -> Finding | None:
    if "carbon-fibre" not in context.dusts:
        return None
    sample, stand_in = context.installed.dust_sample, SUBSTANCES["carbon_fibre"]
    lowest = min(exposure_limits(stand_in), key=lambda row: row.value)
    return Finding(
        Comparison("dust in the breathing zone over the shift", sample, lowest.value, "exposure", "at most"),
        where=context.features_with("carbon-fibre"),
        also=limits_told(stand_in, f"{stand_in}, "),
        assumed=(f"carbon fibre has no limit of its own: that of {stand_in} stands in for it",),
        asks=asked(dust_sample=sample),
        source=lowest.source,
    )


CONSTITUENT_RULES: Final[tuple[Rule[Context], ...]] = (
    Rule(
        "nickel", "dust", "Nickel in the dust",
        "29 CFR 1910.1200, Appendix A, Table A.6.1 (from memory); NIOSH Pocket Guide", HYGIENIST,
        "Have the sample analysed for nickel; keep the dust off the skin.",
        partial(_constituent, "nickel", "nickel", MIXTURE_CUT_OFF), "check",
    ),
    Rule(
        "chromium-hexavalent", "dust", "Chromium, hexavalent where it gets hot",
        "29 CFR 1910.1026(a) and (c)", HYGIENIST,
        "Have the sample analysed for chromium(VI), above all where grinding colours the metal.",
        partial(_constituent, "chromium", "chromium(VI)", MIXTURE_CUT_OFF), "check",
    ),
    Rule(
        "cobalt", "dust", "Cobalt in the dust",
        "29 CFR 1910.1200, Appendix A, Table A.6.1 (from memory); 29 CFR 1910.1000, Table Z-1", HYGIENIST,
        "Have the sample analysed for cobalt; dust of ground carbide tools counts too.",
        partial(_constituent, "cobalt", "cobalt", MIXTURE_CUT_OFF), "check",
    ),
    Rule(
        "cadmium", "dust", "Cadmium in the dust",
        "29 CFR 1910.1027(c)", HYGIENIST,
        "Have the sample analysed for cadmium; plating and solder hold it where the alloy does not.",
        partial(_constituent, "cadmium", "cadmium", MIXTURE_CUT_OFF),
    ),
    Rule(
        "beryllium", "dust", "Beryllium in the alloy",
        BERYLLIUM_CUT_OFF.source, HYGIENIST,
        "Deburring, grinding and sanding make a beryllium work area from 0.1 % on: zones, clothing, medical checks.",
        partial(_constituent, "beryllium", "beryllium", BERYLLIUM_CUT_OFF),
    ),
    Rule(
        "lead", "dust", "Lead in the alloy",
        "29 CFR 1910.1025(c) and (d)", HYGIENIST,
        "Make the initial determination by sampling; no eating or dry sweeping near the cell.",
        partial(_constituent, "lead", "lead", MIXTURE_CUT_OFF), "check",
    ),
    Rule(
        "coating-content", "dust", "Lead and chromate in the coating",
        "29 CFR 1910.1025(c); 29 CFR 1910.1026(c)", HYGIENIST,
        "Have the coating tested before it is sanded; is it fully cured, or does it still give off isocyanate?",
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
    Rule(
        "carbon-fibre", "dust", "Carbon fibre in air and on skin",
        "ACGIH, Threshold Limit Values, graphite", HYGIENIST,
        "Sample respirable dust at loading; provide gloves and cover for skin and eyes where parts are handled.",
        _carbon_fibre,
    ),
)  # fmt: skip
