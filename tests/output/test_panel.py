"""A chart is to scale: curve, area, levels, bars and ticks stand where their values put them, worked out by hand."""

import re

import pytest

from rigcheck.output.charts import curve_chart, rail_chart
from rigcheck.output.panel import Chart, Panel

# axes from 100 to 500 across for 0 to 80, and from 220 up to 20 for 0 to 10: 5 across and 20 up a unit
BOX = (100.0, 20.0, 500.0, 220.0)


def panel(*, down: bool = False) -> Panel:
    return Panel(chart=Chart("try", 300.0), box=BOX, x=(0.0, 80.0), y=(0.0, 10.0), down=down)


def runs(svg: str) -> list[list[tuple[float, float]]]:
    """Points of every stroke and area."""
    found = re.findall(r'(?:points|\bd)="M?([-\d. ,]+)z?"', svg)
    return [list(zip(*[iter(map(float, re.findall(r"-?[\d.]+", run)))] * 2, strict=True)) for run in found]


def words(svg: str) -> dict[str, tuple[float, float]]:
    found = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]*)<', svg)
    return {text: (float(x), float(y)) for x, y, text in found}


def test_curve_area_level_and_upright():
    one = panel()
    one.curve([0.0, 40.0, 60.0, 80.0], [0.0, 5.0, None, 10.0])
    one.area([0.0, 40.0, 80.0], [2.0, 5.0, 3.0])
    one.level(4.0)
    one.upright(20.0)
    found = runs(one.chart.svg())
    assert [(100.0, 220.0), (300.0, 120.0)] in found  # open where it has no value
    assert [(100.0, 220.0), (100.0, 180.0), (300.0, 120.0), (500.0, 160.0), (500.0, 220.0)] in found
    assert [(100.0, 140.0), (500.0, 140.0)] in found
    assert [(200.0, 220.0), (200.0, 20.0)] in found


def test_axes_carry_their_ticks_and_titles():
    one = panel()
    one.axes("Pull, lb", named="Angle, deg")
    svg = one.chart.svg()
    found, told = runs(svg), words(svg)
    assert [(100.0, 20.0), (100.0, 220.0), (500.0, 220.0)] in found
    # a grid line and a number at each tick, the number beside it
    for text, across in (("20", 200.0), ("40", 300.0), ("60", 400.0)):
        assert told[text][0] == across and [(across, 20.0), (across, 220.0)] in found
    assert [(100.0, 120.0), (500.0, 120.0)] in found and told["5"][0] < 100.0
    assert told["5"][1] == pytest.approx(120.0, abs=6.0)
    assert told["Angle, deg"][0] == 300.0 and told["Angle, deg"][1] > 240.0  # under the middle
    assert "Pull, lb" in told and told["Pull, lb"][1] < 20.0


def test_bars_are_as_long_as_their_values():
    one = Panel(chart=Chart("try", 300.0), box=BOX, x=(0.0, 80.0), y=(0.0, 2.0), down=True)
    one.bars([("empty", 16.0, "16 lb"), ("packed", 64.0, "64 lb")], title="Load case", named="Pull, lb")
    svg = one.chart.svg()
    ends = sorted((max(x for x, _ in run), min(y for _, y in run)) for run in runs(svg) if len(run) == 4)
    assert [x for x, _ in ends] == [180.0, 420.0] and ends[0][1] < ends[1][1]  # the first above
    told = words(svg)
    assert told["16 lb"][0] > 180.0 and told["64 lb"][0] > 420.0 and told["empty"][0] < 100.0
    assert [(100.0, 20.0), (100.0, 220.0), (500.0, 220.0)] in runs(svg)
    assert told["Pull, lb"][0] == 300.0


def within(svg: str) -> bool:
    """Whether every stroke and word stands in the picture."""
    wide, tall = map(float, re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg).groups())
    every = [point for run in runs(svg) for point in run] + list(words(svg).values())
    return all(0.0 <= x <= wide and 0.0 <= y <= tall for x, y in every)


def test_a_level_that_no_curve_reaches_stands_in_the_chart():
    # up to 60 % with a level of 100: the scale ends at 108, and both curves and level stand under it
    curves = {"x": {"title": "Length, in", "values": [80.0, 90.0, 100.0]}, "y": {"title": "Utilization, %"},
              "lines": {"rail": [40.0, 50.0, 60.0]}, "level": 100.0, "now": 90.0}  # fmt: skip
    svg = curve_chart(curves, name="try")
    assert within(svg)
    level = next(run for run in runs(svg) if len(run) == 2 and run[1][0] - run[0][0] > 250.0 and run[0][1] <= 60.0)
    assert level[0][1] == level[1][1] > 30.0
    curve = next(run for run in runs(svg) if len(run) == 3 and run[0][0] < run[1][0] < run[2][0])
    heights = [curve[i][1] - level[0][1] for i in range(3)]  # 60, 50 and 40 below it
    assert heights[0] / 60.0 == pytest.approx(heights[1] / 50.0, rel=0.01) == pytest.approx(heights[2] / 40.0, rel=0.01)
    empty = curve_chart({**curves, "lines": {"rail": [None, None, None]}, "level": None}, name="try")
    assert within(empty)


def test_all_panels_of_the_rail_stand_in_its_chart():
    x = [0.0, 40.0, 80.0, 110.0]
    found = {"x": x, "axial": [0.0, -200.0, 0.0, 0.0], "shear": [50.0, -50.0, 80.0, 0.0],
             "moment": [0.0, 900.0, -700.0, 0.0], "hanger": 80.0,
             "shape": {"x": x, "drop": [0.0, 0.1, 0.0, 0.4]}}  # fmt: skip
    svg = rail_chart(found, units={"force": "lbf", "moment": "lbf*in", "length": "in"})
    assert within(svg) and "Along the floor from the hinge, in" in words(svg)
