"""Time a whole `rigcheck check CASE` against the bare import of the frame solver, turn by turn."""

import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
RUNS = 9


def seconds(arguments: list[str]) -> float:
    start = time.perf_counter()
    done = subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, check=False)
    took = time.perf_counter() - start
    if done.returncode not in (0, 1, 3):
        raise SystemExit(done.stderr.decode())
    return took


def main(case: str) -> None:
    commands = {
        "check": ["-m", "rigcheck", "check", str(Path(case).resolve())],
        "import": ["-c", "import anastruct"],
    }
    times: dict[str, list[float]] = {name: [] for name in commands}
    for arguments in commands.values():
        seconds(arguments)  # caches of the disk, compiled modules
    for _ in range(RUNS):
        for name, arguments in commands.items():
            times[name].append(seconds(arguments))
    medians = {name: statistics.median(found) for name, found in times.items()}
    print(f"rigcheck check    {1000.0 * medians['check']:6.0f} ms, median of {RUNS}")
    print(f"import anastruct  {1000.0 * medians['import']:6.0f} ms, median of {RUNS}")
    print(f"ratio             {medians['check'] / medians['import']:6.2f}")


if __name__ == "__main__":
    main(sys.argv[1])
