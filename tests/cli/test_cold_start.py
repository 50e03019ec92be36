"""What a cold `check` costs in processor time, over the bare import of a frame solver in a process of its own.

0.6 of it is asked for a rig with nothing over and 1.1 for one that is told what fixes it. A machine that does other
work adds to a short process more than to a long one, so that the limits here leave room for that.
`tests.bench.cold_start` measures every case. Not among the quick tests.
"""

import pytest

from tests.bench.cold_start import IMPORT, ROOT, run

RUNS = 3
ROOM = 1.4


@pytest.mark.parametrize(
    ("name", "asked"), [("larkspur-bar", 0.6), ("fallow-ditch", 1.1)], ids=["nothing over", "moves and parts tried"]
)
def test_a_cold_check_costs_no_more_than_it_may(name: str, asked: float) -> None:
    call = ["-m", "rigcheck", "check", str(ROOT / "cases" / f"{name}.toml")]
    run(call)  # caches of the disk, compiled modules
    pairs = [(run(call)[0], run(["-c", IMPORT])[0]) for _ in range(RUNS)]
    assert min(cold for cold, _ in pairs) <= ROOM * asked * min(bare for _, bare in pairs), pairs
