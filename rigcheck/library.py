"""The library: read a rig, check one or many, ask the studies; what `import rigcheck` offers stands here.

Numbers are inch, pound-force, psi and radian; `rigcheck.number` reads a text with a unit. See docs/library.md.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.assessment.verdict import Verdict, rig_word, verdict
from rigcheck.case import CaseError
from rigcheck.case import read_case as _read_case
from rigcheck.case import read_case_text as _read_case_text
from rigcheck.case.rig import Rig, varied
from rigcheck.quantities import Dimension, read
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.studies.field.readings import LoadCell, Readings, SidePull
from rigcheck.studies.field.study import field
from rigcheck.studies.fold.record import FoldStudy
from rigcheck.studies.fold.study import fold_of
from rigcheck.studies.hardware.study import hardware
from rigcheck.studies.haul.study import haul
from rigcheck.studies.length.record import Sweep
from rigcheck.studies.length.study import sweep
from rigcheck.studies.materials.record import Materials
from rigcheck.studies.materials.study import materials as _materials
from rigcheck.studies.plant.record import PlantStudy
from rigcheck.studies.plant.study import plant_study
from rigcheck.studies.proof.study import proof
from rigcheck.studies.props.study import props
from rigcheck.studies.remedies.record import Remedy, applied
from rigcheck.studies.remedies.study import remedies
from rigcheck.studies.spread.study import Spread
from rigcheck.studies.spread.study import spread as _spread
from rigcheck.studies.spread.unknowns import given, usual
from rigcheck.studies.vary.batch import Judged, judge
from rigcheck.studies.vary.variable import value_of, variable

__all__ = [
    "Assessment",
    "CaseError",
    "Judged",
    "LoadCell",
    "Readings",
    "Rig",
    "SidePull",
    "Verdict",
    "bed_mark",
    "check",
    "check_batch",
    "field",
    "fold",
    "hardware",
    "haul",
    "length",
    "materials",
    "number",
    "plant",
    "proof",
    "props",
    "read_case",
    "read_case_text",
    "remedied",
    "remedies",
    "spread",
    "varied",
    "verdict",
    "verdicts",
]


def read_case(path: str | Path) -> Rig:
    """Read a case file.

    Args:
        path: The file.

    Returns:
        The rig that it describes.

    Raises:
        CaseError: With every problem of the file.
    """
    return Rig(_read_case(path))


def read_case_text(text: str, *, name: str = "case") -> Rig:
    """Read the text of a case.

    Args:
        text: As in a file.
        name: What problems call it.

    Returns:
        The rig that it describes.

    Raises:
        CaseError: With every problem of the text.
    """
    return Rig(_read_case_text(text, name=name))


def number(text: str, *, dimension: Dimension) -> float:
    """Read a text with a unit, such as `9 ft 4 in`, into inch, pound-force, psi, radian or a product of them.

    Args:
        text: The text.
        dimension: What it must be, such as `length`.

    Raises:
        QuantityError: It is none, with the forms that are accepted.
    """
    return read(text, dimension=dimension)


def check(rig: Rig) -> Assessment:
    """Check every described part in every load case.

    Args:
        rig: One rig, or a batch that fits the memory as a whole; `check_batch` takes any number.

    Returns:
        Statics, every check at its worst, findings, and what nobody could assess; `verdict` gives its one word.

    Raises:
        CaseError: No box could weigh what the case says was weighed.
    """
    return assess(rig)


def check_batch(rigs: Rig) -> Judged:
    """Check any number of rigs in every load case, in parts of bounded memory.

    Args:
        rigs: A rig with keys varied, values of shape () or (design,).

    Returns:
        Every check of every design at its worst; `verdicts` gives their words.
    """
    return judge(rigs)


def verdicts(rigs: Rig, *, found: Judged) -> NDArray[np.str_]:
    """The word for each rig of a batch: over, incomplete, tight or within, the gravest that holds.

    Args:
        rigs: The batch.
        found: What `check_batch` found of it.

    Returns:
        Words, shape (design,).
    """
    passes, highest = found.passes(), found.highest()
    limit = np.broadcast_to(rigs.number("factors.tight_above"), highest.shape)
    complete = not found.not_assessed
    rows = zip(passes.tolist(), (highest > limit).tolist(), strict=True)
    return np.array([rig_word(over=not good, complete=complete, tight=tight) for good, tight in rows], dtype=np.str_)


def fold(rig: Rig) -> FoldStudy:
    """Follow the fold from deployed to folded.

    Args:
        rig: A rig that folds.

    Raises:
        ValueError: The case does not fold.
    """
    return fold_of(assess(rig))


def length(
    rig: Rig, *, vary: str = "box.length", low: str | None = None, high: str | None = None, points: int = 33
) -> Sweep:
    """Find where a rig passes every check while one key is varied.

    Args:
        rig: One rig.
        vary: The key.
        low: Start of the range, with its unit; what suits the key if None.
        high: Its end.
        points: Values scanned.

    Raises:
        CaseError: No such key, an unreadable end, or a key that touches no check.
    """
    key = variable(rig.case, vary)
    ends = (
        None if low is None else value_of(key, low, option="low"),
        None if high is None else value_of(key, high, option="high"),
    )
    return sweep(rig, variable=key, span=ends, points=points)


def materials(rig: Rig) -> Materials:
    """List every piece to cut, every weld to lay and every part to buy.

    Args:
        rig: One rig.
    """
    return _materials(assess(rig))


def plant(rig: Rig) -> PlantStudy:
    """Ask whether the plant tips or bears too hard on its feet under the box.

    Args:
        rig: One rig.
    """
    return plant_study(assess(rig))


def remedied(rig: Rig, *, remedy: Remedy) -> Rig:
    """Carry out a remedy.

    Args:
        rig: The rig that is over.
        remedy: One that `remedies` found for it.

    Returns:
        The rig after it.
    """
    return Rig(applied(rig.case, remedy))


def spread(rig: Rig, *, vary: Iterable[str] = (), samples: int = 1000, seed: int = 1) -> Spread:
    """Check many samples of what is not known well.

    Args:
        rig: One rig.
        vary: Keys with their spread, such as `bed.depth=+-1 in`; what is usually not known well where none is given.
        samples: How many.
        seed: The same one gives the same answer.

    Raises:
        CaseError: A spread cannot be read, or its key touches no check.
    """
    unknowns = given(rig.case, vary) or usual(rig.case)
    return _spread(rig, unknowns=unknowns, samples=samples, seed=seed)
