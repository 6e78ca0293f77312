"""Rules on who can reach the moving tool: openings, distances, locks, curtains and speed in manual mode."""

from __future__ import annotations

from typing import Final

from finishplan.hazards.context import Context
from finishplan.hazards.note import Amount, Comparison, Finding, Provision, Rule
from finishplan.hazards.wording import GUARD_DESIGNER, asked, remembered
from finishplan.job import Installed
from finishplan.physics.guarding import (
    APPROACH_SPEED,
    CLASS_I_SPEED,
    EDITION,
    MANUAL_SPEED,
    PRESS_OPENING_SOURCE,
    REACH_ROWS,
    WHOLE_BODY_OPENINGS,
    guard_distance,
    hand_speed_distance,
    press_distance,
    reach_distance,
    separation_distance,
)

HAND_SPEED_CLAUSE: Final = "29 CFR 1910.217(c)(3)(iii)(e), written for presses"

WIDEST: Final = REACH_ROWS[-1].up_to
"""Widest opening of ISO 13857, Table 4 [m]."""


def _opening(context: Context) -> Finding | None:
    if not context.works:
        return None
    own = context.installed
    if own.guard_opening is not None and own.guard_opening > WIDEST:
        whole = WHOLE_BODY_OPENINGS[own.opening_shape]
        return Finding(
            Comparison("widest opening that the table knows", own.guard_opening, WIDEST, "length", "at most"),
            also=(Amount("the whole body passes above", whole.value, "length"),),
        )
    return Finding(
        Comparison("guard to hazard", own.guard_distance, _reach(own), "length", "at least"),
        also=_for_presses(own.guard_opening),
        assumed=("persons of 14 years and above",),
        asks=asked(guard_opening=own.guard_opening, guard_distance=own.guard_distance),
    )


def _for_presses(opening: float | None) -> tuple[Amount, ...]:
    """What the table for presses asks for, the yardstick of the United States."""
    distance = None if opening is None else press_distance(opening)
    if distance is None:
        return ()
    return (Amount(f"for comparison: {PRESS_OPENING_SOURCE}, written for presses", distance, "length"),)


def _reach(installed: Installed) -> float | None:
    """How far one reaches through the opening of the guard; None if that is not known [m]."""
    opening = installed.guard_opening
    if opening is None or opening > WIDEST:
        return None
    return float(reach_distance(opening, installed.opening_shape, installed.slot_length))


def _interlocked(context: Context) -> Finding | None:
    own = context.installed
    if not context.works or own.guard_locking:
        return None
    time = own.stopping_time
    needed = None if time is None else float(guard_distance(time, _reach(own) or 0.0))
    return Finding(
        Comparison("door to hazard", own.guard_distance, needed, "length", "at least"),
        assumed=(
            f"a person walks at {APPROACH_SPEED:g} m/s (ISO 13855:2010); the edition of 2024 splits the additions",
            *(() if _reach(own) else ("no reach through before the switch acts",)),
        ),
        asks=asked(stopping_time=time, guard_distance=own.guard_distance),
    )


def _locking(context: Context) -> Finding | None:
    if not context.works:
        return None
    own = context.installed
    if own.guard_locking:
        return Finding(Provision("doors locked until the spindle stands still", "yes", "yes", met=True))
    reached = None
    if own.guard_distance is not None:
        reached = max(own.guard_distance - (_reach(own) or 0.0), 0.0) / APPROACH_SPEED
    return Finding(
        Comparison("run-down of the spindle, door open", own.run_down_time, reached, "short time", "at most"),
        assumed=(f"a person walks at {APPROACH_SPEED:g} m/s",),
        asks=asked(run_down_time=own.run_down_time, guard_distance=own.guard_distance, guard_locking=own.guard_locking),
    )


def _unlocking(context: Context) -> Finding | None:
    own = context.installed
    if not context.works or not own.guard_locking:
        return None
    return Finding(
        Comparison("time from stop to unlocking", own.unlock_delay, own.run_down_time, "short time", "at least"),
        asks=asked(unlock_delay=own.unlock_delay, run_down_time=own.run_down_time),
    )


def _curtain(context: Context) -> Finding | None:
    own = context.installed
    if not context.works or own.light_curtain_resolution is None:
        return None
    times = (own.stopping_time, own.run_down_time)
    by: dict[str, float] = {}
    if times[0] is not None and times[1] is not None:
        time = max(times[0], times[1])
        by[f"{EDITION}, 6.2 (from memory)"] = float(separation_distance(time, own.light_curtain_resolution))
        by[HAND_SPEED_CLAUSE] = float(hand_speed_distance(time))
    governing = max(by, key=lambda source: by[source], default="")
    return Finding(
        Comparison("light curtain to hazard", own.light_curtain_distance, by.get(governing), "length", "at least"),
        also=tuple(Amount(f"by {source}", distance, "length") for source, distance in by.items()),
        assumed=("approached square on; robot and spindle both stand before the hazard is over",),
        asks=asked(
            stopping_time=times[0], run_down_time=times[1], light_curtain_distance=own.light_curtain_distance
        ),
        source=governing,
    )  # fmt: skip


def _manual(context: Context) -> Finding | None:
    if not context.works or context.top_speed <= MANUAL_SPEED.value:
        return None
    speed = context.installed.manual_speed
    return Finding(
        Comparison("speed limit in manual mode", speed, MANUAL_SPEED.value, "feed", "at most"),
        also=(Amount("top speed of the robot", context.top_speed, "feed"),),
        assumed=remembered(MANUAL_SPEED.grade),
        asks=asked(manual_speed=speed),
    )


def _collaborative(context: Context) -> Finding | None:
    if not context.works or context.robot != "collaborative":
        return None
    fastest = max(context.air_speed, *(work.feed for work in context.works))
    return Finding(
        Comparison("fastest planned speed", fastest, CLASS_I_SPEED.value, "feed", "at most"),
        also=(Amount("turning tools it carries", "; ".join(tool.name for tool in context.tools)),),
    )


GUARD_RULES: Final[tuple[Rule[Context], ...]] = (
    Rule(
        "guard-opening", "guarding", "Reach through openings of the guard",
        "ISO 13857:2019, Table 4", GUARD_DESIGNER,
        "Measure the largest opening and its distance, conveyor slots and cable holes too.",
        _opening, "stop",
    ),
    Rule(
        "guard-distance", "guarding", "Distance of an interlocked door without a lock",
        "ISO 13855:2010, interlocking guards (clause from memory)", GUARD_DESIGNER,
        "Measure the stopping time at full speed and load, every year again.",
        _interlocked, "stop",
    ),
    Rule(
        "guard-locking", "guarding", "Access while the spindle coasts",
        "ISO 14119:2013, guard locking (clause from memory); ISO 13855:2010", GUARD_DESIGNER,
        "Time the run-down of the heaviest tool from full speed and compare with a walk to it.",
        _locking, "stop",
    ),
    Rule(
        "unlocking", "guarding", "Lock that outlasts the run-down",
        "ISO 14119:2013, guard locking (clause from memory)", GUARD_DESIGNER,
        "Is standstill measured, or only waited for? What happens when power fails?",
        _unlocking, "stop",
    ),
    Rule(
        "light-curtain", "guarding", "Distance of the light curtain",
        "ISO 13855:2010, 6.2 (from memory)", GUARD_DESIGNER,
        "Check against the text of the edition of 2024 where it applies.",
        _curtain, "stop",
    ),
    Rule(
        "manual-speed", "guarding", "Speed with a person in the cell",
        f"{MANUAL_SPEED.source} (from memory)", GUARD_DESIGNER,
        "In manual mode: hold-to-run, enabling device, spindle off unless the step cannot do without.",
        _manual,
    ),
    Rule(
        "collaborative", "guarding", "A turning tool on a collaborative robot",
        CLASS_I_SPEED.source, GUARD_DESIGNER,
        "Limits of robot force and speed do not cover the tool: assess the application, not the arm.",
        _collaborative, "check",
    ),
)  # fmt: skip
