"""Rules on noise: the level at the operator's place, and the dose of a shift by three schemes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Final

from finishplan import reference
from finishplan.hazards.context import Context, Work
from finishplan.hazards.note import Amount, Comparison, Finding, Rule
from finishplan.hazards.wording import HYGIENIST, asked, remembered
from finishplan.physics.noise import (
    HEARING_CONSERVATION_DOSE,
    HIGHEST_LEVEL_DB,
    NOISE_SCHEMES,
    SOURCE_LEVELS,
    LevelBand,
    NoiseScheme,
    combined_level_db,
    exposure_level_db,
    level_away,
    noise_dose,
    permitted_time,
    shift_level_db,
)

_BY_TOOL: Final = {
    "saw blade": "circular sawing of metal",
    "cut-off": "circular sawing of metal",
    "disc": "angle grinder of 100 mm, idle",
}
"""Work whose published level is taken, by kind of tool; other abrasives count as pedestal grinding."""


FOUND_AT: Final = 1.0
"""Distance the published levels are taken to be found at, an operator's arm away [m]."""

_BESIDE: Final[dict[NoiseScheme, tuple[tuple[str, float, str], ...]]] = {
    "OSHA": (("dose allowed by Table G-16", 1.0, "fraction"),),
    "NIOSH": (),
    "EU upper action": (
        ("lower action value, over eight hours", NOISE_SCHEMES["EU lower action"].level_db, "sound level"),
        ("limit value, protectors counted", NOISE_SCHEMES["EU limit"].level_db, "sound level"),
    ),
}
"""Further thresholds of a scheme."""


@dataclass(frozen=True)
class Level:
    """Level at the operator's place [dB(A)], and what it rests on."""

    band: LevelBand
    assumed: tuple[str, ...]
    measured: bool


def level_in(context: Context) -> Level:
    """Level measured, or that of the loudest work and a free-running spindle together."""
    measured = context.installed.noise_level
    if measured is not None:
        return Level(LevelBand(measured, measured, measured), (), measured=True)
    loudest = max((_process_level(work) for work in context.works), key=lambda level: level.band.high_db)
    spindle, own = _default_level("spindle_noise_level"), context.installed
    both = (
        float(combined_level_db([getattr(one.band, end), getattr(spindle.band, end)]))
        for one, end in ((loudest, "low_db"), (loudest, "middle_db"), (loudest, "high_db"))
    )
    band = LevelBand(*both)
    told = [*loudest.assumed, *spindle.assumed]
    if own.operator_distance is not None:
        band = level_away(band, FOUND_AT, own.operator_distance)
        told.append(
            f"{own.operator_distance:g} m away: as in the open at the low end, as in a hard hall at the high end"
        )
    if own.enclosure_attenuation is None:
        told.append("no enclosure")
    quieter = own.enclosure_attenuation or 0.0
    band = LevelBand(band.low_db - quieter, band.middle_db - quieter, band.high_db - quieter)
    return Level(band, tuple(told), measured=False)


def _process_level(work: Work) -> Level:
    tool = work.tool
    if not tool.abrasive and not tool.disc:
        return _default_level("cutting_noise_level")
    sanded = work.dust == "wood" and tool.abrasive
    name = "wood sander" if sanded else _BY_TOOL.get(tool.kind, "pedestal grinding")
    found = SOURCE_LEVELS[name]
    told = f"{name}, {found.low_db:g} to {found.high_db:g} dB(A) ({found.source}; {found.grade})"
    return Level(LevelBand(found.low_db, (found.low_db + found.high_db) / 2, found.high_db), (told,), measured=False)


def _default_level(name: str) -> Level:
    entry = reference.default(name)
    low, high = entry.low or entry.value, entry.high or entry.value
    return Level(
        LevelBand(low, entry.value, high),
        (f"{entry.title}: {low:g} to {high:g} dB(A) ({entry.grade})",),
        measured=False,
    )


def _dose(scheme: NoiseScheme, threshold: float, context: Context) -> Finding | None:
    """Dose of a shift spent beside the running cell."""
    if not context.works:
        return None
    level, criterion = level_in(context), NOISE_SCHEMES[scheme]
    band = level.band
    low, middle, high = (
        float(noise_dose([end], [context.shift], scheme)) for end in (band.low_db, band.middle_db, band.high_db)
    )
    return Finding(
        Comparison("dose of a shift beside the cell", middle, threshold, "fraction", "at most", low=low, high=high),
        also=(
            Amount("level at the operator's place", band.low_db, "sound level", high=band.high_db),
            Amount(
                "level over eight hours", float(shift_level_db(low, scheme)), "sound level",
                high=float(shift_level_db(high, scheme)),
            ),
            *(Amount(name, value, kind) for name, value, kind in _BESIDE[scheme]),
            Amount("time permitted at the middle of it", float(permitted_time(band.middle_db, scheme)), "duration"),
            Amount("halved by", f"{criterion.exchange_db:g} dB less, or half the time"),
        ),
        assumed=(
            *level.assumed,
            "the whole shift beside the running cell, no hearing protectors",
        ),
        asks=asked(noise_level=context.installed.noise_level),
        source=criterion.source if threshold == 1 else HEARING_CONSERVATION_DOSE.source,
    )  # fmt: skip


def _lower(context: Context) -> Finding | None:
    """The daily level from which protectors are offered and people are told."""
    if not context.works:
        return None
    level, lower = level_in(context), NOISE_SCHEMES["EU lower action"]
    low, middle, high = (
        float(exposure_level_db([end], [context.shift]))
        for end in (level.band.low_db, level.band.middle_db, level.band.high_db)
    )
    if high < lower.level_db:
        return None
    return Finding(
        Comparison("daily exposure level", middle, lower.level_db, "sound level", "counts from", low=low, high=high),
        assumed=(*level.assumed, "the whole shift beside the running cell"),
        asks=asked(noise_level=context.installed.noise_level),
    )


def _highest(context: Context) -> Finding | None:
    if not context.works:
        return None
    level = level_in(context)
    band = level.band
    if band.high_db < HIGHEST_LEVEL_DB.value:
        return None
    return Finding(
        Comparison(
            "level at the operator's place", band.middle_db, HIGHEST_LEVEL_DB.value, "sound level", "at most",
            low=band.low_db, high=band.high_db,
        ),
        assumed=(*level.assumed, *remembered(HIGHEST_LEVEL_DB.grade)),
        asks=asked(noise_level=context.installed.noise_level),
    )  # fmt: skip


NOISE_RULES: Final[tuple[Rule[Context], ...]] = (
    Rule(
        "noise-osha", "noise", "Noise of a shift, United States",
        "29 CFR 1910.95(c)", HYGIENIST,
        "Measure with the loudest job. From half the dose on a hearing conservation programme is due.",
        partial(_dose, "OSHA", HEARING_CONSERVATION_DOSE.value),
    ),
    Rule(
        "noise-niosh", "noise", "Noise of a shift, recommended limit",
        "NIOSH Publication 98-126", HYGIENIST,
        "Enclose, line the enclosure, choose a quieter spindle; blow-off nozzles are often the loudest.",
        partial(_dose, "NIOSH", 1.0),
    ),
    Rule(
        "noise-eu", "noise", "Noise of a shift, European Union",
        "Directive 2003/10/EC, Article 3", HYGIENIST,
        "Upper action value of 85 dB(A): marked areas, protectors worn; from 80 dB(A) on they are offered.",
        partial(_dose, "EU upper action", 1.0),
    ),
    Rule(
        "noise-eu-lower", "noise", "Noise from which people are told, European Union",
        NOISE_SCHEMES["EU lower action"].source, HYGIENIST,
        "Offer hearing protectors, tell and train people, and offer hearing tests where the risk is shown.",
        _lower, "check",
    ),
    Rule(
        "noise-highest", "noise", "Level that nobody may be exposed to",
        f"{HIGHEST_LEVEL_DB.source} (from memory)", HYGIENIST,
        "Keep people out while it runs, whatever protectors they wear.",
        _highest, "stop",
    ),
)  # fmt: skip
