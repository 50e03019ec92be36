"""What a cold `check` costs, over the bare import of a frame solver, each in a process of its own.

Counted are the calls that the interpreter makes, which other work on the machine does not change.
`tests.bench.cold_start` measures the processor time of every case, of which 0.6 is asked for a rig with nothing over
and 1.1 for one that is told what fixes it. Not among the quick tests.
"""

import subprocess
import sys

import pytest

from tests.bench.cold_start import IMPORT, ROOT, environment

COUNTED = """
import cProfile, pstats, sys
profile = cProfile.Profile()
profile.enable()
{body}
profile.disable()
print(pstats.Stats(profile, stream=sys.stderr).total_calls, file=sys.stderr)
"""
CHECK = "from rigcheck.cli import main; main(['check', {path!r}])"


def calls(body: str) -> int:
    command = [sys.executable, "-c", COUNTED.format(body=body)]
    done = subprocess.run(command, cwd=ROOT, env=environment(), capture_output=True, check=True, text=True)
    return int(done.stderr.split()[-1])


@pytest.fixture(scope="module")
def bare() -> int:
    return calls(IMPORT)


@pytest.mark.parametrize(
    ("name", "asked"), [("larkspur-bar", 0.6), ("fallow-ditch", 1.1)], ids=["nothing over", "moves and parts tried"]
)
def test_a_cold_check_costs_no_more_than_it_may(bare: int, name: str, asked: float) -> None:
    assert calls(CHECK.format(path=str(ROOT / "cases" / f"{name}.toml"))) <= asked * bare
