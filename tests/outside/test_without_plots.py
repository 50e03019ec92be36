"""The frame solver loads without the plotting that it brings along, and leaves the real one to whoever wants it."""

import subprocess
import sys
from pathlib import Path

CODE = """
import sys
from rigcheck.crosscheck.without_plots import without_plots
with without_plots():
    from Pynite import FEModel3D
    assert type(sys.modules["matplotlib"]).__name__ == "_Empty"
assert not [name for name in sys.modules if name.partition(".")[0] == "matplotlib"]
beam = FEModel3D()
beam.add_material("steel", 29e6, 11.2e6, 0.3, 0.0)
beam.add_section("bar", 1.0, 1.0, 1.0, 1.0)
beam.add_node("a", 0.0, 0.0, 0.0)
beam.add_node("b", 120.0, 0.0, 0.0)
beam.add_member("span", "a", "b", "steel", "bar")
beam.def_support("a", True, True, True, True, False, False)
beam.def_support("b", False, True, True, False, False, False)
beam.add_member_pt_load("span", "Fy", -100.0, 60.0)
beam.analyze_linear()
print(beam.members["span"].max_moment("Mz"), beam.members["span"].min_moment("Mz"))
import matplotlib
assert matplotlib.__version__
with without_plots():
    assert sys.modules["matplotlib"] is matplotlib
"""


def test_the_solver_computes_without_plotting_and_plotting_loads_afterwards():
    done = subprocess.run(
        [sys.executable, "-c", CODE], cwd=Path(__file__).parents[2], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    most = max(abs(float(word)) for word in done.stdout.split())
    assert abs(most - 100.0 * 120.0 / 4.0) < 1e-6  # P L / 4, a load in the middle of a simple beam
