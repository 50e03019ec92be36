"""The command `field`: what scale and tape say of the finished rig, beside what the case says."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, TypeAlias, cast

import typer

from rigcheck.cli.codes import UNUSABLE_INPUT, code_of
from rigcheck.cli.inputs import read_whole
from rigcheck.cli.options import AsJson, CaseFile, Everything, Force, OutputUnits, Units, Width, look
from rigcheck.cli.output import complain, refuse_existing, say, say_json, write_file
from rigcheck.tables.load_cases import EMPTY, ids

if TYPE_CHECKING:
    from rigcheck.quantities import Dimension
    from rigcheck.studies.field.readings import Readings


_Text: TypeAlias = str | None
_Texts: TypeAlias = list[str] | None


def _option(name: str, metavar: str, words: str) -> Any:
    return typer.Option(f"--{name}", metavar=metavar, help=words)


TailLift = Annotated[
    _Texts,
    _option("tail-lift", "FORCE", "Upward pull near the tail that slackens both lines; with --water-fill twice."),
]
At = Annotated[_Text, _option("at", "DIST", "Level distance from the hinge axis to that pull.")]
Carry = Annotated[bool, typer.Option("--lines-carry", help="The lines still carried during the tail lift.")]
Pull = Annotated[
    _Texts,
    _option("side-pull", "FORCE", "Sideways pull at the middle of a line, '25 lb' or '25 lb left'; repeat at offsets."),
]
Offset = Annotated[_Texts, _option("offset", "DIST", "How far the middle moved, one for each --side-pull.")]
Span = Annotated[_Text, _option("span", "DIST", "Pulled line, pin to pin; that of the case when not given.")]
Cell = Annotated[_Texts, _option("load-cell", "FORCE", "Load cell in a line, such as '510 lb left'; repeat for both.")]
Sag = Annotated[_Text, _option("sag", "DIST", "Middle of a line off a string from pin to pin.")]
LineWeight = Annotated[_Text, _option("line-weight", "WEIGHT", "Weight of the line, such as '1.4 lb/ft', for --sag.")]
Fill = Annotated[_Text, _option("water-fill", "DEPTH", "Water at the blocked tail of the clean box, off the floor.")]
Weight = Annotated[_Text, _option("weight", "FORCE", "The whole empty box on a scale, wet mats and riffles in it.")]
Arm = Annotated[_Text, _option("arm", "DIST", "Taped square from the hinge axis to a line, seen from the side.")]
Rests = Annotated[bool, typer.Option("--rests", help="The box rested on something during the side pull.")]


def _measured_in(state: str) -> str:
    """A load case in which a hung box can be measured at rest."""
    known = ids(lambda case: case.measurable)
    if state not in known:
        raise typer.BadParameter(f"{state!r} is not one of {', '.join(known)}.")
    return state


InState = Annotated[
    str,
    typer.Option(
        "--state", metavar="LOAD CASE", callback=_measured_in,
        help=f"Load case the rig was measured in: {', '.join(ids(lambda case: case.measurable))}.",
    ),
]  # fmt: skip
ScaleError = Annotated[str, _option("scale-error", "SHARE", "Uncertainty of scale and load cell.")]
Output = Annotated[
    Path | None,
    typer.Option("--output", "-o", metavar="FILE", help="Write the case with what was measured into this file.",
                 show_default=False),
]  # fmt: skip
TapeError = Annotated[str, _option("tape-error", "DIST", "Uncertainty of a length.")]


def command(  # noqa: PLR0913 (its parameters are the options of the command line)
    file: CaseFile,
    *,
    tail_lift: TailLift = None,
    at: At = None,
    lines_carry: Carry = False,
    side_pull: Pull = None,
    offset: Offset = None,
    span: Span = None,
    load_cell: Cell = None,
    sag: Sag = None,
    line_weight: LineWeight = None,
    water_fill: Fill = None,
    weight: Weight = None,
    arm: Arm = None,
    rests: Rests = False,
    state: InState = EMPTY,
    scale_error: ScaleError = "2 %",
    tape_error: TapeError = "1/8 in",
    output: Output = None,
    force: Force = False,
    as_json: AsJson = False,
    units: OutputUnits = Units.us,
    width: Width = 0,
    everything: Everything = False,
) -> int:
    """Compare what was measured on the rig with the case, and give the lines that store it there, or a new case file.

    Exit code 2 where no box of this case could give these readings.
    """
    from rigcheck.case.reading.measured_text import with_measured
    from rigcheck.case.rig import Rig
    from rigcheck.output.field.screen import field_screen
    from rigcheck.output.field.view import field_result
    from rigcheck.studies.field.study import field

    if output is not None:
        refuse_existing(output, force=force, case=file)
    case, source, text = read_whole(file)
    rig = Rig(case)
    words = {
        "tail_lift": tail_lift, "at": at, "side_pull": side_pull, "offset": offset, "span": span,
        "load_cell": load_cell, "sag": sag, "line_weight": line_weight, "water_fill": water_fill, "weight": weight,
        "arm": arm, "scale_error": scale_error, "tape_error": tape_error,
    }  # fmt: skip
    readings = _readings(words, rig=rig, flags={"state": state, "lines_carry": lines_carry, "rests": rests})
    study = field(rig, readings=readings)
    found = field_result(study, source=source, system=units.value)
    storing = output is not None and not study.refused
    if storing and not study.store:
        complain("field: nothing to store in a case file: [measured] holds what was read on the empty box")
        return UNUSABLE_INPUT
    if output is not None and storing:  # before any verdict is told, so that none stands beside a failure
        write_file(output, text=with_measured(text, study.store, name=source.file), force=force)
        complain(f"{output}: written; every check of it counts with what was measured")
    if as_json:
        say_json(found)
    else:
        say(field_screen(found, look=look(width, whole=everything)))
    if study.refused:
        for why in study.refused:
            complain(f"readings: {why}")
        return UNUSABLE_INPUT
    return code_of(found["verdict"])


def _readings(words: dict[str, Any], *, rig: Any, flags: dict[str, Any]) -> Readings:
    """The options as numbers.

    Raises:
        CaseError: With everything that is wrong with them.
    """
    from rigcheck.case.errors import CaseError, Problem
    from rigcheck.loads.shape import side_at_tail
    from rigcheck.studies.field.readings import LoadCell, Readings, SidePull

    problems: list[Problem] = []

    def some(name: str, dimension: Dimension) -> list[float]:
        given = words[name]
        texts = [] if given is None else given if isinstance(given, list) else [given]
        return [_value(text, name, dimension=dimension, problems=problems) for text in texts]

    def one(name: str, dimension: Dimension) -> float | None:
        return next(iter(some(name, dimension)), None)

    pulls = [_sided(text, "side_pull", problems=problems) for text in words["side_pull"] or ()]
    cells = [_sided(text, "load_cell", problems=problems) for text in words["load_cell"] or ()]
    offsets, long = some("offset", "length"), one("span", "length")
    if len(offsets) != len(pulls):
        problems.append(Problem("options", "--offset", f"is given {len(offsets)} times for {len(pulls)} --side-pull"))
    long = long or _pin_to_pin(rig)
    found = Readings(
        tail_lift=tuple(some("tail_lift", "force")),
        at=one("at", "length"),
        side_pull=tuple(
            SidePull(force=force, offset=off, span=long, side=cast("Any", side))
            for (force, side), off in zip(pulls, offsets, strict=False)
        ),
        load_cell=tuple(LoadCell(force=force, side=cast("Any", side)) for force, side in cells),
        sag=one("sag", "length"),
        line_weight=one("line_weight", "linear weight"),
        water_fill=one("water_fill", "length"),
        weight=one("weight", "force"),
        arm=one("arm", "length"),
        scale_error=one("scale_error", "fraction") or 0.0,
        tape_error=one("tape_error", "length") or 0.0,
        **flags,
    )
    side = float(side_at_tail(rig))
    if found.water_fill is not None and found.water_fill > side:
        problems.append(Problem("options", "--water-fill", f"is over the sides ({side:.4g} in)"))
    problems += [Problem("options", name, why) for name, why in found.problems()] if not problems else []
    if problems:
        raise CaseError(problems)
    return found


def _pin_to_pin(rig: Any) -> float:
    """Line of the case, deployed."""
    import numpy as np

    from rigcheck.analysis.solve import layout
    from rigcheck.statics.geometry import pose

    return float(pose(layout(rig), fold=np.zeros(1)).line_length[0])


def _sided(text: str, name: str, *, problems: list[Any]) -> tuple[float, str]:
    """A force with the side it was read on."""
    words = text.rsplit(maxsplit=1)
    side = words[-1] if words and words[-1] in ("left", "right") else "each"
    return _value(text if side == "each" else words[0], name, dimension="force", problems=problems), side


def _value(text: str, name: str, *, dimension: Dimension, problems: list[Any]) -> float:
    """A positive quantity; what is wrong with it is added to the problems."""
    from rigcheck.case.errors import Problem, printable_line
    from rigcheck.quantities import QuantityError
    from rigcheck.quantities import read as read_quantity

    option = f"--{name.replace('_', '-')}"
    try:
        value = read_quantity(text, dimension=dimension)
    except QuantityError as error:
        problems.append(Problem("options", option, printable_line(error.why), error.accepted))
        return 1.0
    least = 0.0 if name.endswith("error") else 1e-9
    if not least <= value <= 1e7:
        problems.append(Problem("options", option, f'"{printable_line(text)}" is no reading'))
        return 1.0
    return value
