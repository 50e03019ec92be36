"""Draw rigs by lot and put their cards on paper and on a phone.

    python -m tests.bench.papers --rigs 50

A line for each rig; 1 where a card does not come out as it must. The suite keeps a small share of it:
tests/output/test_card_paper.py.
"""

from __future__ import annotations

import argparse

from rigcheck.case.errors import CaseError
from tests.output.paper_reader import paper_tab
from tests.output.test_card_paper import card_page, drawn_case, wrong_on_a_phone, wrong_on_paper


def main() -> int:
    """Look at drawn rigs."""
    options = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    options.add_argument("--rigs", type=int, default=50)
    options.add_argument("--first", type=int, default=0)
    given = options.parse_args()
    bad = 0
    with paper_tab() as tab:
        for seed in range(given.first, given.first + given.rigs):
            try:
                html = card_page(drawn_case(seed), system=("us", "si")[seed % 2])
            except CaseError as error:  # measured weights that no such box can have
                print(seed, "refused:", str(error)[:60], flush=True)
                continue
            wrong = [*wrong_on_paper(tab, html), *wrong_on_a_phone(tab, html)]
            bad += bool(wrong)
            print(seed, wrong or "as it must be", flush=True)
    return 1 if bad else 0


if __name__ == "__main__":
    raise SystemExit(main())
