"""Noise and vibration: levels beside a cell, the dose of a shift, and what hands take up."""

from __future__ import annotations

from finishplan.physics.noise.cell import (
    LevelBand,
    cell_level_band,
    compound_loss_db,
    enclosure_insertion_loss_db,
    level_away,
    room_constant,
    room_level_db,
)
from finishplan.physics.noise.dose import (
    HEARING_CONSERVATION_DOSE,
    HIGHEST_LEVEL_DB,
    NOISE_SCHEMES,
    SHIFT_LEVEL_DB,
    NoiseCriterion,
    NoiseScheme,
    exposure_level_db,
    noise_dose,
    permitted_time,
    shift_level_db,
)
from finishplan.physics.noise.levels import (
    SOURCE_LEVELS,
    SourceLevel,
    combined_level_db,
    equal_sources_level_db,
    free_field_level_db,
)
from finishplan.physics.noise.vibration import (
    VIBRATION_ACTION_VALUE,
    VIBRATION_LIMIT_VALUE,
    daily_vibration,
    vibration_points,
    vibration_time,
)

__all__ = [
    "HEARING_CONSERVATION_DOSE",
    "HIGHEST_LEVEL_DB",
    "NOISE_SCHEMES",
    "SHIFT_LEVEL_DB",
    "SOURCE_LEVELS",
    "VIBRATION_ACTION_VALUE",
    "VIBRATION_LIMIT_VALUE",
    "LevelBand",
    "NoiseCriterion",
    "NoiseScheme",
    "SourceLevel",
    "cell_level_band",
    "combined_level_db",
    "compound_loss_db",
    "daily_vibration",
    "enclosure_insertion_loss_db",
    "equal_sources_level_db",
    "exposure_level_db",
    "free_field_level_db",
    "level_away",
    "noise_dose",
    "permitted_time",
    "room_constant",
    "room_level_db",
    "shift_level_db",
    "vibration_points",
    "vibration_time",
]
