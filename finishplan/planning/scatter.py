"""The corners of the part-to-part scatter, and those of the published bands of the coefficients.

The corners are found by sense: more force never leaves a smaller break, a larger burr never a
larger one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from finishplan import physics
from finishplan.job import Edge
from finishplan.planning.desk import Desk
from finishplan.planning.edge_desk import EdgeDesk
from finishplan.planning.mounting import position_errors
from finishplan.process.chip_law import ChipLaw, PowerLaw
from finishplan.process.edge_conditions import CompliantMount, EdgeConditions, RobotState
from finishplan.process.edge_cutting import Corner
from finishplan.reference import Kienzle


def scatter_corners(desk: EdgeDesk, nominal: EdgeConditions) -> dict[Corner, EdgeConditions]:
    """The nominal conditions and the extremes the variation from part to part can reach."""
    scatter = _scatter(desk, nominal)
    return {
        "nominal": nominal,
        "smallest break": _varied(nominal, scatter, burr=1, hardness=1, worn=True, force=-1, path=-1),
        "largest break": _varied(nominal, scatter, burr=-1, hardness=-1, worn=False, force=1, path=1),
        "heaviest load": _heaviest(desk, _varied(nominal, scatter, burr=1, hardness=1, worn=True, force=1, path=1)),
    }


def _heaviest(desk: EdgeDesk, conditions: EdgeConditions) -> EdgeConditions:
    """With the end of the band of the force ratio that loads the drive under a set force, or the arm without one."""
    ratio = desk.family.force_ratio
    end = ratio.low if isinstance(conditions.mount, CompliantMount) else ratio.high
    return replace(conditions, cutter=replace(conditions.cutter, force_ratio=np.float64(end or ratio.value)))


@dataclass(frozen=True)
class _Scatter:
    """Half-widths of the part-to-part variation, and the wear factor at the end of life."""

    burr_height: np.float64
    burr_root_thickness: np.float64
    hardness: np.float64
    force: np.float64
    path: np.float64
    worn: float


def burr_scatter(desk: Desk, edge: Edge) -> tuple[np.float64, np.float64]:
    """Half-widths of the scatter of a burr's height and root thickness [m]."""
    burr = edge.burr

    def size(key: str, own: float | None, nominal: float) -> np.float64:
        if own is None:
            words = f"scatter of the burr's {key.replace('_', ' ')}, half-width"
            return desk.ledger.assumed(f"edge.burr_{key}_scatter", "burr_scatter", "length", nominal, words)
        return desk.figure(f"edge.burr_{key}_scatter", own, "length", "burr", f"{key}_scatter")

    return (
        size("height", burr.height_scatter, burr.height),
        size("root_thickness", burr.root_thickness_scatter, burr.root_thickness),
    )


def path_scatter(desk: Desk, amplitude: np.float64, robot: RobotState) -> np.float64:
    """Half-width of the scatter of an edge's position under a rigid tool [m]."""
    errors = desk.ledger.gather("edge.position_errors", position_errors(desk, amplitude, robot), "length")
    coverage = desk.ledger.assumed("rules.coverage_factor", "coverage_factor", "number")
    path = physics.required_stroke(errors, coverage, "statistical")
    return desk.ledger.record("edge.path_scatter", path, "length", "position errors combined statistically")


def _scatter(desk: EdgeDesk, nominal: EdgeConditions) -> _Scatter:
    ledger, mount = desk.ledger, nominal.mount
    height, root = burr_scatter(desk, desk.edge)
    return _Scatter(
        burr_height=height,
        burr_root_thickness=root,
        hardness=ledger.assumed("chip_law.scatter", "cutting_force_scatter", "fraction"),
        force=mount.friction if isinstance(mount, CompliantMount) else np.float64(0.0),
        path=path_scatter(desk, nominal.edge.waviness_amplitude, nominal.robot),
        worn=desk.family.wear_factor.value,
    )


def _varied(
    nominal: EdgeConditions, scatter: _Scatter, *, burr: int, hardness: int, worn: bool, force: int, path: int
) -> EdgeConditions:
    edge = replace(
        nominal.edge,
        burr_height=np.float64(max(nominal.edge.burr_height + burr * scatter.burr_height, 0.0)),
        burr_root_thickness=np.float64(max(nominal.edge.burr_root_thickness + burr * scatter.burr_root_thickness, 0.0)),
        path_error=np.float64(path * scatter.path),
    )
    law = replace(
        scaled_law(nominal.chip_law, np.float64(1 + hardness * scatter.hardness)),
        wear_factor=np.float64(scatter.worn if worn else 1.0),
    )
    mount = nominal.mount
    if isinstance(mount, CompliantMount):
        mount = replace(mount, force_error=np.float64(force * scatter.force))
    return replace(nominal, edge=edge, chip_law=law, mount=mount)


def scaled_law(law: ChipLaw, factor: np.float64) -> ChipLaw:
    """The same law with every force coefficient multiplied by a factor."""
    if isinstance(law, PowerLaw):
        return replace(law, kc11=law.kc11 * factor)
    return replace(law, slope=law.slope * factor, intercept=law.intercept * factor)


def coefficient_corners(desk: EdgeDesk, nominal: EdgeConditions) -> dict[str, EdgeConditions]:
    """Nominal edge with the coefficients at the ends of their published bands: what a first trial settles."""
    ratio = desk.family.force_ratio
    cutting = desk.workpiece.cutting
    leading = cutting.kc11 if isinstance(cutting, Kienzle) else cutting.intercept
    corners = {}
    for name, force_ratio, factor in (
        ("smallest break", ratio.high, leading.high),
        ("largest break", ratio.low, leading.low),
    ):
        law = scaled_law(nominal.chip_law, np.float64((factor or leading.value) / leading.value))
        cutter = replace(nominal.cutter, force_ratio=np.float64(force_ratio or ratio.value))
        corners[name] = replace(nominal, chip_law=law, cutter=cutter)
    return corners
