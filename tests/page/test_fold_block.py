"""The chart of the fold on the page says what the weakest link allows and where its scale ends, to the careful side."""

import re
from typing import Any

import pytest

from rigcheck.output.fold.view import fold_result
from rigcheck.page.folding_play import fold_block
from rigcheck.studies.fold.study import fold_of
from tests.output.conftest import assessed


@pytest.mark.parametrize(
    ("system", "allows", "top"),
    # 3000 lb hoist, links worn by 5 %: 2850 lb, which is 2850 x 4.4482216 = 12,677.4 N; no pull of this fold is higher
    [("us", "2,850 lb", "2,850 lb"), ("si", "12.67 kN", "12.68 kN")],
)
def test_the_chart_names_its_ends(system: Any, allows: str, top: str) -> None:
    found = assessed()
    chart, study = fold_block(found, system=system)["svg"], fold_result(fold_of(found), system=system, whole=True)
    said = re.findall(r"<text[^>]*>([^<]*)</text>", chart)
    assert f"weakest link allows {allows}" in said and top in said and said.count("0") == 1
    assert f"at most {top}; solid" in chart
    # what is allowed is the top of the scale, 16 below the edge; a pull of half of it stands halfway down to 170
    assert re.search(r'class="limit" d="M64(?:.0)? 16.0H', chart)
    (run,) = re.findall(r'class="alone" points="([^"]*)"', chart)
    heights = [float(pair.partition(",")[2]) for pair in run.split()]
    pulls = [row["line_alone"] for row in study["rows"] if row["line_alone"] is not None]
    assert heights == pytest.approx(
        [170.0 - 154.0 * max(pull, 0.0) / study["pull"]["allowed"] for pull in pulls], abs=0.06
    )
    assert min(heights) < 160.0
