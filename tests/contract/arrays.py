"""Arrays of 2,000 random rigs: statics, utilization of every check and every finding, hashed part by part."""

from collections.abc import Iterator
from hashlib import sha256

import numpy as np

from rigcheck.arrays.types import Array
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case.rig import Rig
from tests.contract.calls import DIGITS
from tests.statics.random_rigs import STRUCTURES, varied_rig
from tests.support.lot import batch_of

DRAWN, EACH = 16, 100
"""Structures drawn by lot, and designs of each."""
BARE = 100
"""Designs of each bare structure; with those drawn they come to 2,000."""
BATCHES = (*(f"drawn-{seed}" for seed in range(DRAWN)), *(name.replace(" ", "-") for name in STRUCTURES))


def batch(name: str) -> Rig:
    """A batch of rigs by its name."""
    kind, _, seed = name.rpartition("-")
    if kind == "drawn":
        return batch_of(int(seed), size=EACH)[0]
    return varied_rig(STRUCTURES[name.replace("-", " ")], BARE, seed=7)


def lines(name: str) -> Iterator[tuple[str, str]]:
    """What is frozen of a batch: a name and a hash for its statics, for each part and for its findings."""
    found = assess(batch(name))
    forces: list[tuple[str, Array]] = []
    for run in ("held", "demand"):
        balance = getattr(found.solution, run)
        forces += [(f"{run} tension", balance.tension), (f"{run} hinge", balance.hinge)]
    yield f"{name}/statics", _hashed(forces)
    for part, uses in sorted(_by_part(found).items()):
        yield f"{name}/{part.replace(' ', '-')}", _hashed(uses)
    raised = [(flag.code, np.asarray(flag.where, float)) for flag in sorted(found.flags, key=lambda flag: flag.code)]
    yield f"{name}/findings", _hashed(raised)
    missing = [(f"{part.id}, {part}", np.zeros(0)) for part in sorted(found.not_assessed)]
    yield f"{name}/missing", _hashed(missing)


def _by_part(found: Assessment) -> dict[str, list[tuple[str, Array]]]:
    """Utilization of every check, part by part."""
    parts: dict[str, list[tuple[str, Array]]] = {}
    for use in found.worst:
        check = use.check
        name = f"{check.mode}, {check.snag}, {check.on_accidents}"
        parts.setdefault(check.part, []).append((name, np.asarray(use.utilization, float)))
    return parts


def _hashed(named: list[tuple[str, Array]]) -> str:
    """A hash of arrays with their names, each number in as many figures as count."""
    digest = sha256()
    for name, values in named:
        digest.update(name.encode())
        digest.update(str(np.shape(values)).encode())
        digest.update(" ".join(f"{value + 0.0:.{DIGITS}g}" for value in np.ravel(values)).encode())
    return digest.hexdigest()[:16]
