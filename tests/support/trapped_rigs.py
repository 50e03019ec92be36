"""Traps and a gate put by lot into a rig that has none, as far as the rules let them stand."""

from copy import deepcopy
from random import Random

from rigcheck.case import CaseError, check_case
from rigcheck.quantities import read
from tests.support.extreme_rigs import Data

SIZE = {"half pipe": "diameter", "angle": "leg", "plate": "height"}
TRIES = 6


def _trap(rng: Random, *, along: float, wide: float, side: float) -> Data:
    kind = rng.choice(sorted(SIZE))
    size = rng.uniform(0.5, 6.0)
    found: Data = {"kind": kind, "at": f"{rng.uniform(0.0, along):.3f} in", "wall": f"{rng.uniform(0.05, 0.4):.3f} in"}
    found[SIZE[kind]] = f"{min(size, side) if kind == 'plate' else size:.3f} in"
    if kind != "plate" and rng.random() < 0.6:
        found |= {"weld": "1/8 in", "weld_length": f"{0.5 * wide:.6f} in"}
        found |= {"cover": "1/8 in"} if rng.random() < 0.5 else {}
    found |= {"drained_to": "0 in"} if rng.random() < 0.4 else {}
    return found | ({"holds": "water and sand"} if rng.random() < 0.4 else {})


def with_traps(data: Data, *, seed: int) -> Data | None:
    """A rig with one trap or more, and maybe a gate; None where no trap that was drawn may stand in it.

    Args:
        data: A case as in a file, without traps.
        seed: Of the lot.
    """
    rng, new = Random(f"traps {seed}"), deepcopy(data)
    along, wide, side = (read(data["box"][key], dimension="length") for key in ("length", "width", "side_height"))
    new.setdefault("rail", {})["effective_floor_width"] = "0 in"
    new["trap"] = [_trap(rng, along=along, wide=wide, side=side) for _ in range(rng.choice((2, 3, 4)))]
    if rng.random() < 0.6:
        high = max(rng.uniform(0.3, 1.0) * side, 0.5)
        new["gate"] = [{"at": f"{rng.uniform(0.5, along):.2f} in", "height": f"{high:.3f} in", "sheet": "1/8 in"}]
    for _ in range(TRIES):
        try:
            check_case(new)
        except CaseError as error:
            keys = [problem.key for problem in error.problems]
            wrong = {int(key[5 : key.index("]")]) - 1 for key in keys if key.startswith("trap[")}
            new["trap"] = [trap for place, trap in enumerate(new["trap"]) if place not in wrong]
            if any(key.startswith("gate") for key in keys):
                del new["gate"]
            continue
        return new if new["trap"] else None
    return None
