"""What may be left out may be called unknown: what stands for it then, held to the page that says what it costs."""

import re
from copy import deepcopy
from pathlib import Path

import pytest

from rigcheck.assessment.assess import assess
from rigcheck.case import CaseError, check_case
from rigcheck.case.rig import Rig
from rigcheck.case.schema.keys import defaulted_keys
from rigcheck.quantities import read
from tests.support.extreme_rigs import starter_data

PAGE = (Path(__file__).parents[2] / "docs" / "cases.md").read_text(encoding="utf-8")
SEAM = {"made": "stitch", "leg": "1/8 in", "length": "2 in", "pitch": "4 in"}
JOINT = {"made": "bolted", "leg": "1/8 in", "count": 3, "size": "1/2 in", "pitch": "1 1/2 in", "first": "1 in"}
FOOT = {"name": "jack", "height": "-44 in"}
LINK = {"kind": "rated part", "wll": "3000 lb", "length": "4 in"}
LUG = {"plate": "3/8 in", "hole": "13/16 in", "edge": "1 in", "width": "2 1/2 in", "weld": "3/16 in"}
EAR = {**LUG, "hole": "1 1/16 in", "edge": "1 1/4 in", "stand_off": "1 3/4 in", "weld_length": "2 in"}
BRACE = {"foot_downstream": "-18 in", "foot_below": "40 in", "top_below": "6 in", "shape": "HSS1-1/2x1-1/2x1/8"}


def whole():
    """A case that has every table."""
    data = starter_data()
    data["rail"] |= {"wall_seam": dict(SEAM), "floor_seam": dict(SEAM)}
    places = (("-8 in", "28 in"), ("-8 in", "-28 in"), ("-110 in", "0 in"))
    feet = [{**FOOT, "downstream": x, "across": y} for x, y in places]
    wheels = {"axle": "-50 in", "tongue": "-170 in", "track": "60 in"}
    data["plant"] |= {"weight": "3300 lb", "cg_downstream": "-56 in", "cg_height": "-3 in", "foot": feet,
                      "wheels": wheels}  # fmt: skip
    data.setdefault("mat", {"weight": "2 lb/ft2"})
    data["fitting"] = [{"name": "lip", "weight": "20 lb", "at": "100 in"}]
    data["trap"] = [{"kind": "plate", "at": "20 in", "height": "1 in", "wall": "1/8 in"}]
    data["gate"] = [{"at": "30 in", "height": "2 in", "sheet": "1/8 in"}]
    data["perch"]["post"]["brace"] = dict(BRACE)
    data["line"] |= {"backup": [{**LINK, "length": "20 in"}]}
    data["tail_leg"] = {"at": "100 in"}
    data["second_line"] = {"at": "100 in", "downstream": "-30 in", "link": [dict(LINK)]}
    data["haul"]["tie_down"][0]["eyelet"] = dict(LUG)
    check_case(deepcopy(data))
    return data


def in_stretches(data, *, joined):
    """One stretch, or two with a joint, in place of what does not go with them."""
    for key in ("tail_leg", "second_line"):
        del data[key]
    length = read(data["box"]["length"], dimension="length")
    first, last = {"length": f"{0.5 * length} in"}, {"length": f"{0.5 * length} in", "joint": dict(JOINT)}
    data["stretch"] = [first, last] if joined else [{"length": f"{length} in"}]


def put(path, value):
    """The whole case with a value under a key path, in the first row of each repeated table on the way."""
    data = whole()
    if path.startswith(("hinge.ear", "hinge.plant_ear")):
        data["hinge"] = {"kind": "ears", "pin": "1 in", "ear": dict(EAR), "plant_ear": dict(EAR)}
    if path.startswith("stretch."):
        in_stretches(data, joined="joint" in path)
    here = data
    *way, last = path.split(".")
    for step in way:
        here = here.setdefault(step, {})
        # the first stretch joins nothing, so that the last one has the joint
        here = here[-1 if "joint" in path else 0] if isinstance(here, list) else here
    if value is None:
        here.pop(last, None)
    else:
        here[last] = value
    return data


def rows():
    """What stands in the last column of the page, to the key paths of the first."""
    table = PAGE[PAGE.index("## What you do not know") : PAGE.index("## Rules between keys")]
    lines = [line.strip("| ").split(" | ") for line in table.splitlines() if line.startswith("| ")][1:]
    return [(re.findall(r"`([a-z_.]+)`", left), right) for left, right in lines if not left.startswith("---")]


def keys(start):
    return [path for paths, stands in rows() if stands.startswith(start) for path in paths]


def lowest_on_the_page():
    return [
        (paths[0], stands.partition(",")[0].strip("`")) for paths, stands in rows() if stands.endswith("the lowest")
    ]


def wrong(data):
    """Rules between keys may mind what is left out; what cannot be read is another thing."""
    try:
        return check_case(data), []
    except CaseError as error:
        return None, [(problem.key, problem.why) for problem in error.problems]


@pytest.mark.parametrize("path", keys("nothing"))
def test_what_is_unknown_reads_as_what_is_left_out(path):
    for word in ("unknown", " Unknown "):
        assert wrong(put(path, word)) == wrong(put(path, None))


@pytest.mark.parametrize(("path", "value"), lowest_on_the_page())
def test_the_lowest_stands_and_is_named(path, value):
    case = check_case(put(path, "unknown"))
    plain = {"false": False}.get(value, value.strip('"'))
    assert case == check_case(put(path, plain))
    (one,) = (one for one in defaulted_keys(case) if one.path == path)
    assert one.value == value and "unknown" in one.source


@pytest.mark.parametrize("path", keys("refused"))
def test_what_must_be_known_is_refused_by_name(path):
    _, problems = wrong(put(path, "unknown"))
    asked = [why for key, why in problems if re.sub(r"\[\d+\]", "", key) == path]
    assert len(asked) == 1 and "must be known" in asked[0]


def test_a_text_that_must_be_there_may_read_so():
    assert check_case(put("title", "unknown")).title == "unknown"
    assert check_case(put("fitting.name", "unknown")).fitting[0].name == "unknown"


@pytest.mark.parametrize("path", keys("the lowest grade"))
def test_an_unknown_steel_is_the_lowest_and_named(path):
    case = check_case(put(path, "unknown"))
    found = [one for one in defaulted_keys(case) if re.sub(r"\[\d+\]", "", one.path) == path]
    assert found and all("lowest grade" in one.source for one in found)


@pytest.mark.parametrize("path", keys("the thinnest wall"))
def test_an_unknown_wall_is_the_thinnest_listed_and_named(path):
    """HSS 2 x 2 is listed from 1/8 in up."""
    case = check_case(put(path, "HSS2x2, wall unknown"))
    assert case == check_case(put(path, "HSS2x2x1/8"))
    (one,) = (one for one in defaulted_keys(case) if re.sub(r"\[\d+\]", "", one.path) == path)
    assert one.value == '"HSS2x2x1/8"' and "thinnest" in one.source


@pytest.mark.parametrize(
    ("written", "name"),
    [("HSS2x2 unknown", "HSS2x2x1/8"), ("hss2x2xunknown", "HSS2x2x1/8"), ("HSS1x2 wall unknown", "HSS1x2x1/8"),
     ("pipe 1-1/2 unknown", "Pipe 1-1/2 STD"), ("HSS4x4, unknown wall", "HSS4x4x1/8")],
)  # fmt: skip
def test_ways_to_say_that_a_wall_is_unknown(written, name):
    assert check_case(put("perch.post.shape", written)).perch.post.shape == name


@pytest.mark.parametrize("written", ["angle 2x2 unknown", "tube 2x2 unknown", "HSS9x9 unknown", "round 3/4 unknown"])
def test_a_wall_that_no_list_has_must_be_measured(written):
    _, problems = wrong(put("cross_member.shape", written))
    assert [key for key, why in problems if "measure it" in why] == ["cross_member.shape"]


def test_a_value_that_has_a_default_takes_it_and_is_named():
    case = check_case(put("plant.cross_slope", "unknown"))
    assert case == check_case(put("plant.cross_slope", None))
    assert "plant.cross_slope" in {one.path for one in defaulted_keys(case)}


def test_unknown_is_never_better_than_left_out():
    """Of a rig all of whose parts are known, each key called unknown in turn: no higher capacity, nothing cured."""
    base = starter_data()
    for path in ("weld.electrode", "weld.hand", "line.wear", "end_tube.head"):
        use = []
        for value in ("unknown", None):
            data = deepcopy(base)
            table, last = path.split(".")
            data.setdefault(table, {})
            if value is None:
                data[table].pop(last, None)
            else:
                data[table][last] = value
            use.append(float(assess(Rig(check_case(data))).utilization))
        assert use[0] >= use[1] - 1e-12, path
