"""The chart of the fold on the page says what the weakest link allows and where its scale ends, to the careful side."""

import re
from typing import Any

import pytest

from rigcheck.page.folding_play import fold_block
from tests.output.conftest import assessed


@pytest.mark.parametrize(
    ("system", "allows", "top"),
    # 3000 lb hoist, links worn by 5 %: 2850 lb, which is 2850 x 4.4482216 = 12,677.4 N; no pull of this fold is higher
    [("us", "2,850 lb", "2,850 lb"), ("si", "12.67 kN", "12.68 kN")],
)
def test_the_chart_names_its_ends(system: Any, allows: str, top: str) -> None:
    chart = fold_block(assessed(), system=system)["svg"]
    said = re.findall(r"<text[^>]*>([^<]*)</text>", chart)
    assert f"weakest link allows {allows}" in said and top in said and said.count("0") == 1
    assert f"at most {top}; solid" in chart
