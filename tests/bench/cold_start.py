"""Processor time of a check of each case, cold and warm, against the bare import of a frame solver, turn by turn.

python -m tests.bench.cold_start [RUNS] [CASE ...]

Cold is a whole `rigcheck check CASE` in a process of its own; warm is one more `assess` of the case as read from its
file, in a process that has done some. The least of several runs counts, since other work only adds to it.
"""

import os
import resource
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
RUNS, WARM_RUNS = 5, 7
IMPORT = "import anastruct"
WARM = """
import sys, time
from pathlib import Path
from rigcheck.assessment.assess import assess
from rigcheck.case.reading.read import read_case
from rigcheck.case.rig import Rig
took = []
for _ in range(int(sys.argv[2])):
    start = time.process_time()
    assess(Rig(read_case(Path(sys.argv[1]))))
    took.append(time.process_time() - start)
print(min(took))
"""


def environment() -> dict[str, str]:
    """That of this process, with modules kept compiled, as an installed package has them."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "PYTHONPATH": str(ROOT)}


def run(arguments: list[str]) -> tuple[float, str]:
    """Processor time of a process, and what it printed. [s]"""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, env=environment(), capture_output=True, check=False, text=True
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode not in (0, 1, 3):
        raise SystemExit(done.stderr)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, done.stdout


def main(runs: int, cases: list[Path]) -> None:
    """Print the least of each, and its share of the import."""
    least = dict.fromkeys(["import", *(f"{how} {case}" for case in cases for how in ("cold", "warm"))], float("inf"))

    def keep(name: str, took: float) -> None:
        least[name] = min(least[name], took)

    for case in cases:
        run(["-m", "rigcheck", "check", str(case)])  # caches of the disk, compiled modules
    for _ in range(runs):
        for case in cases:
            keep(f"cold {case}", run(["-m", "rigcheck", "check", str(case)])[0])
            keep(f"warm {case}", float(run(["-c", WARM, str(case), str(WARM_RUNS)])[1]))
            keep("import", run(["-c", IMPORT])[0])
    whole = least["import"]
    print(f"{IMPORT} {1000.0 * whole:.0f} ms, the least of {runs} or more")
    for case in cases:
        cold, warm = least[f"cold {case}"], least[f"warm {case}"]
        print(f"{case.stem:20s} cold {1000.0 * cold:6.0f} ms {cold / whole:5.2f}  ", end="")
        print(f"warm {1000.0 * warm:5.1f} ms {warm / whole:6.3f}")


if __name__ == "__main__":
    given = sys.argv[1:]
    times = int(given.pop(0)) if given and given[0].isdigit() else RUNS
    main(times, [Path(one).resolve() for one in given] or sorted((ROOT / "cases").glob("*.toml")))
