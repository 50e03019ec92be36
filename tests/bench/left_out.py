"""Make every shipped rig over, leave out each of its optional keys in turn, and look for what would cure it.

    python -m tests.bench.left_out
    python -m tests.bench.left_out larkspur-bar sawpit-bend

Says which key of which rig ends in an error of our own, and how many were looked at.
"""

import sys
import tomllib
from pathlib import Path

from rigcheck.assessment.assess import assess
from rigcheck.case.rig import Rig
from rigcheck.studies.remedies.study import FEW, remedies
from tests.support.left_out import left_out

CASES = Path(__file__).parents[2] / "cases"
WEAK = "1/4 in"  # a hinge pin that no shipped rig can do with


def main(names: list[str]) -> int:
    wrong = looked = 0
    for path in sorted(CASES.glob("*.toml")):
        if names and path.stem not in names:
            continue
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        data["hinge"]["pin"] = WEAK
        for strap in data.get("haul", {}).get("tie_down", []):
            strap["wll"] = "60 lb"
        for one in left_out(data):
            looked += 1
            try:
                found = assess(Rig(one.case))
                remedies(Rig(one.case), found=found, most=FEW)
            except Exception as error:
                wrong += 1
                print(f"{path.stem}, without {one.path}: {type(error).__name__}: {error}", flush=True)
    print(f"{looked} rigs, {wrong} in error")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
