"""Time what the short list of remedies adds to a check of each shipped rig that is over, and the whole list.

python -m tests.bench.remedies_speed
"""

import statistics
import time
from collections.abc import Callable
from pathlib import Path

from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.studies.remedies.study import FEW, remedies

CASES = sorted((Path(__file__).parents[2] / "cases").glob("*.toml"))
RUNS = 5


def milliseconds(work: Callable[[], object]) -> float:
    took = []
    for _ in range(RUNS):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return 1000.0 * statistics.median(took)


def main() -> None:
    print(f"median of {RUNS}, ms             check  three  all")
    for path in CASES:
        rig = Rig(read_case(path))
        found = assess(rig)
        if not bool(found.over):
            continue
        short = milliseconds(lambda rig=rig, found=found: remedies(rig, found=found, most=FEW))  # type: ignore[misc]
        whole = milliseconds(lambda rig=rig, found=found: remedies(rig, found=found))  # type: ignore[misc]
        plain = milliseconds(lambda rig=rig: assess(rig))  # type: ignore[misc]
        print(f"{path.stem:30s} {plain:6.0f} {short:6.0f} {whole:4.0f}")


if __name__ == "__main__":
    main()
