"""The finishplan command. Each command loads, computes and renders; nothing is worked out here.

Heavy modules are imported inside the commands, so that help and completion answer at once.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from enum import StrEnum
from pathlib import Path
from typing import Annotated, Any, NoReturn

import typer

from finishplan import __version__
from finishplan.errors import FinishplanError, InputError, UnitError

app = typer.Typer(
    help="Numbers for robotic deburring, sanding and trimming: force, feed, speed, passes, time, and what limits them.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

NOT_FEASIBLE = 1
BAD_INPUT = 2


class Units(StrEnum):
    """Systems of units a plan is shown in."""

    metric = "metric"
    inch = "inch"


class Process(StrEnum):
    """Processes that have a starter job."""

    deburring = "deburring"
    sanding = "sanding"
    trimming = "trimming"


class FileKind(StrEnum):
    """Files that have a schema."""

    job = "job"
    cell = "cell"


JobPath = Annotated[Path, typer.Argument(metavar="JOB", help="Job file (TOML).")]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON and nothing else.")]
AsCsv = Annotated[bool, typer.Option("--csv", help="Print CSV and nothing else.")]
InUnits = Annotated[Units | None, typer.Option("--units", help="Show in these units instead of the job's.")]
Output = Annotated[Path | None, typer.Option("--output", "-o", metavar="FILE", help="Write to FILE instead.")]
Force = Annotated[bool, typer.Option("--force", help="Overwrite an existing file.")]


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"finishplan {__version__}")
        raise typer.Exit


@app.callback()
def main(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and exit.")
    ] = False,
) -> None:
    """Numbers for robotic deburring, sanding and trimming: force, feed, speed, passes, time, and what limits them."""


@app.command()
def plan(
    job: JobPath,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
    units: InUnits = None,
    output: Output = None,
    force: Force = False,
) -> None:
    """Plan a job: settings, predicted result, limits, cycle time, tool life and cautions.

    Exit code 0: planned. 1: not feasible as it stands; the nearest settings are shown with what
    would free them. 2: faulty input.
    """
    from finishplan.job import load_job
    from finishplan.planning.plan import make_plan
    from finishplan.report.rows import plan_rows

    if as_json and as_csv:
        raise typer.BadParameter("choose one of --json and --csv")
    made = make_plan(load_job(job))
    rows = plan_rows(made, units.value if units else None)
    _deliver(rows, _plan_text(as_json, as_csv), output, force)
    if not made.feasible:
        raise typer.Exit(NOT_FEASIBLE)


@app.command()
def check(job: JobPath) -> None:
    """Check a job file, its cell file and its drawings; report every fault at once."""
    from finishplan.job import load_job
    from finishplan.planning.plan import all_features

    features = all_features(load_job(job))
    typer.echo(f"{job}: no faults found in {len(features)} feature{'s' if len(features) > 1 else ''}")
    for feature in features:
        for note in feature.notes:
            typer.echo(f"{feature.name}: {note}")


@app.command()
def explain(
    job: JobPath,
    feature: Annotated[str, typer.Argument(metavar="FEATURE", help="Name of the feature.")],
    quantity: Annotated[
        str | None, typer.Argument(metavar="[QUANTITY]", help='Figure to explain, such as "contact force".')
    ] = None,
    as_json: AsJson = False,
    units: InUnits = None,
) -> None:
    """Show how the figures of a feature come about: every step, its values and where each is from."""
    from finishplan.job import load_job
    from finishplan.planning.derivation import derive
    from finishplan.report import derivation

    loaded = load_job(job)
    steps = derive(loaded, feature, quantity)
    system = units.value if units else loaded.job.job.units
    if as_json:
        typer.echo(derivation.as_json(steps, system))
    else:
        derivation.print_derivation(steps, system, _console())


@app.command()
def compare(
    job: JobPath,
    arrangement: Annotated[
        bool, typer.Option("--arrangement", help="The tool carried to the part, and the part to the tool.")
    ] = False,
    robot: Annotated[bool, typer.Option("--robot", help="The robot as it is, stiffer, and more accurate.")] = False,
    as_json: AsJson = False,
    units: InUnits = None,
) -> None:
    """Plan a job under other cells and show the plans side by side with the reasons."""
    from finishplan.job import load_job
    from finishplan.planning.arrangement import AS_IT_IS, plan_better_robots, plan_both
    from finishplan.report.comparison import arrangement_reasons, comparison_json, gains, print_comparison

    if arrangement == robot:
        raise typer.BadParameter("choose one of --arrangement and --robot")
    loaded = load_job(job)
    system = units.value if units else loaded.job.job.units
    plans = plan_both(loaded) if arrangement else plan_better_robots(loaded)
    reasons = arrangement_reasons(plans, system) if arrangement else list(gains(plans, AS_IT_IS))
    if as_json:
        typer.echo(comparison_json(plans, reasons, system))
    else:
        print_comparison(plans, reasons, system, _console())


@app.command()
def geometry(
    job: JobPath,
    feature: Annotated[
        str | None, typer.Argument(metavar="[FEATURE]", help="Feature whose waypoints to print.")
    ] = None,
    spacing: Annotated[
        str, typer.Option("--spacing", help='Largest distance between waypoints, such as "5 mm".')
    ] = "5 mm",
    units: InUnits = None,
    output: Output = None,
    force: Force = False,
) -> None:
    """Show what was read from the drawings, or print the waypoints of a planned feature as CSV."""
    from finishplan.job import load_job
    from finishplan.planning.plan import make_plan
    from finishplan.report.geometry_rows import print_geometry, waypoint_csv
    from finishplan.report.writing import write_text
    from finishplan.units import parse, quoted

    loaded = load_job(job)
    system = units.value if units else loaded.job.job.units
    if feature is None:
        print_geometry(loaded, system, _console())
        return
    distance = parse(spacing, "length")
    if distance <= 0:
        raise UnitError(quoted(spacing), "a distance above zero between waypoints", quoted("5 mm"))
    text = waypoint_csv(make_plan(loaded), feature, distance, system)
    if output is None:
        typer.echo(text.rstrip("\n"))
    else:
        write_text(output, text, overwrite=force)
        typer.echo(f"wrote {output}", err=True)


@app.command()
def hazards(
    job: JobPath,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
    as_markdown: Annotated[bool, typer.Option("--markdown", help="Print Markdown and nothing else.")] = False,
    units: InUnits = None,
    output: Output = None,
    force: Force = False,
) -> None:
    """Print the hazard notes of a plan as a sheet for review: figure, threshold, source, and who decides."""
    from finishplan.hazards import review
    from finishplan.job import load_job
    from finishplan.planning.plan import make_plan
    from finishplan.report import hazard_data, hazard_sheet
    from finishplan.report.hazard_rows import hazard_rows

    renders = {hazard_data.as_json: as_json, hazard_data.as_csv: as_csv, hazard_sheet.as_markdown: as_markdown}
    chosen = [render for render, asked in renders.items() if asked]
    if len(chosen) > 1:
        raise typer.BadParameter("choose one of --json, --csv and --markdown")
    made = make_plan(load_job(job))
    rows = hazard_rows(review(made), units.value if units else made.loaded.job.job.units)
    if chosen or output is not None:
        _put((chosen[0] if chosen else hazard_sheet.sheet_text)(rows), output, force)
    else:
        hazard_sheet.print_sheet(rows, _console())
    if not made.feasible:
        raise typer.Exit(NOT_FEASIBLE)


@app.command()
def data(
    table: Annotated[str | None, typer.Argument(metavar="[TABLE]", help="Reference table; none lists them.")] = None,
    name: Annotated[str | None, typer.Argument(metavar="[NAME]", help="One entry of the table.")] = None,
    as_json: AsJson = False,
) -> None:
    """List the reference tables, the entries of one, or one entry with sources, grades and bands."""
    from finishplan.report import reference_data

    if as_json:
        typer.echo(reference_data.as_json(table, name))
    else:
        reference_data.print_table(table, name, _console())


@app.command()
def new(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Job file to write.")],
    units: Annotated[Units, typer.Option("--units", help="Units of the starter.")] = Units.metric,
    process: Annotated[Process, typer.Option("--process", help="Process of the starter.")] = Process.deburring,
    force: Force = False,
) -> None:
    """Write a commented starter job that plans as it stands."""
    from finishplan.job import starter_text
    from finishplan.report.writing import write_text

    write_text(file, starter_text(units.value, process.value), overwrite=force)
    typer.echo(f"wrote {file}; next: finishplan plan {file}")


@app.command()
def schema(kind: Annotated[FileKind, typer.Argument(metavar="job|cell", help="Kind of file.")]) -> None:
    """Print the JSON Schema of a job or cell file, for completion in an editor."""
    from finishplan.job import json_schema
    from finishplan.report.tabular import dump

    typer.echo(dump(json_schema(kind.value)))


def _plan_text(as_json: bool, as_csv: bool) -> Callable[[Any], str] | None:
    from finishplan.report.tabular import as_csv as csv_text
    from finishplan.report.tabular import as_json as json_text

    if as_json:
        return json_text
    return csv_text if as_csv else None


def _deliver(rows: Any, render: Callable[[Any], str] | None, output: Path | None, force: bool) -> None:
    """Print the plan, or write it to a file."""
    from finishplan.report.terminal import plan_text, print_plan
    from finishplan.report.writing import write_text

    if output is not None:
        write_text(output, (render or plan_text)(rows), overwrite=force)
        typer.echo(f"wrote {output}", err=True)
    elif render is not None:
        typer.echo(render(rows).rstrip("\n"))
    else:
        print_plan(rows, _console())


def _put(text: str, output: Path | None, force: bool) -> None:
    """Print a text, or write it to a file."""
    from finishplan.report.writing import write_text

    if output is None:
        typer.echo(text.rstrip("\n"))
        return
    write_text(output, text, overwrite=force)
    typer.echo(f"wrote {output}", err=True)


def _console() -> Any:
    from rich.console import Console

    return Console(highlight=False, soft_wrap=False)


def run() -> NoReturn:
    """Entry point: the user's own mistakes end in messages, defects in a traceback."""
    try:
        app(standalone_mode=True)
    except InputError as error:
        for fault in error.faults:
            typer.echo(str(fault), err=True)
        count = len(error.faults)
        typer.echo(f"{count} fault{'s' if count > 1 else ''}; nothing was planned or written", err=True)
        sys.exit(BAD_INPUT)
    except FinishplanError as error:
        typer.echo(str(error), err=True)
        sys.exit(BAD_INPUT)
    sys.exit(0)
