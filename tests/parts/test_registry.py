"""PARTS: each part once, each builder once, and a made-up part that is in everything that reads them."""

import importlib
import inspect
import json
import pkgutil

import numpy as np
import pytest

from rigcheck import parts
from rigcheck.analysis.missing import Missing
from rigcheck.analysis.rows import Check, Flag
from rigcheck.assessment.assess import assess
from rigcheck.case import read_case
from rigcheck.case.rig import Rig
from rigcheck.cli import main
from rigcheck.parts import registry
from rigcheck.parts.registry import PARTS, Part, PartId, check_builders, stoppers
from rigcheck.parts.stretches import inner
from tests.support.finding_cases import ROOT

CASE = ROOT / "cases" / "larkspur-bar.toml"


def test_each_part_and_each_builder_stands_once():
    assert [part.id for part in PARTS] == list(PartId)
    findings = [build for part in PARTS for build in part.findings]
    assert len({*check_builders()}) == len(check_builders()) and len({*findings}) == len(findings)
    assert all(part.can_stop <= {*part.findings} for part in PARTS)


@pytest.mark.parametrize("name", ["kestrel-bench", "fallow-ditch", "heron-shelf"])
def test_what_stops_a_rig_is_known_to_be_able_to(name):
    """A long study asks only those builders whose findings can stop a rig."""
    solution = assess(Rig(read_case(ROOT / "cases" / f"{name}.toml"))).solution
    for part in PARTS:
        for build in part.findings:
            assert build in part.can_stop or not any(flag.stops for flag in build(solution)), build.__name__


ASKED_BY_OTHERS = {"ears_not_assessed", "pivot_not_assessed", "unrated"}
"""Builders that another builder of their part calls."""


def test_no_builder_is_left_out():
    """Whatever makes checks, findings or what is not assessed from a solution belongs to a part, which asks it."""
    asked = {inner(build) for part in PARTS for build in (*part.checks, *part.findings, *part.not_assessed)}
    lost = []
    for found in pkgutil.walk_packages(parts.__path__, "rigcheck.parts."):
        for name, build in vars(importlib.import_module(found.name)).items():
            own = inspect.isfunction(build) and build.__module__ == found.name != registry.__name__
            if own and not name.startswith("_") and list(inspect.signature(build).parameters) == ["solution"]:
                made = inspect.signature(build).return_annotation
                if made in ("list[Check]", "list[Flag]", "list[Missing]") and build not in asked:
                    lost.append(name)
    assert set(lost) == ASKED_BY_OTHERS


def made_up_checks(solution):
    """A bolt that carries 40 lbf for each of the 50 lbf that it may."""
    size = np.asarray(40.0)
    return [Check(part="made-up bolt", group="line", mode="shear", unit="force", demand=size, capacity=np.asarray(50.0),
                  basis="static load", clause="none (memory)")]  # fmt: skip


def made_up_findings(solution):
    return [Flag(code="made_up", text="the made-up bolt is bent", where=np.asarray(True), stops=True)]


def made_up_lacks(solution):
    return [Missing("nut of the made-up bolt", id="bolt.nut", group="line")]


@pytest.fixture
def bolted(monkeypatch):
    """The rig has one part more."""
    part = Part(id=PartId.STATED, checks=(made_up_checks,), findings=(made_up_findings,),
                can_stop=frozenset({made_up_findings}), not_assessed=(made_up_lacks,))  # fmt: skip
    monkeypatch.setattr(registry, "PARTS", (*PARTS, part))
    return part


def test_a_made_up_part_is_checked_told_and_missed(bolted):
    found = assess(Rig(read_case(CASE)))
    (bolt,) = (worst for worst in found.worst if worst.check.part == "made-up bolt")
    assert float(bolt.utilization) == pytest.approx(0.8)  # 40 of 50 lbf
    assert bool(found.stopped) and "made_up" in {flag.code for flag in found.flags}
    assert any(missing.id == "bolt.nut" for missing in found.not_assessed)
    assert made_up_findings in stoppers()


@pytest.mark.parametrize("command", ["check", "haul", "spread --samples 20", "card"])
def test_commands_say_the_made_up_part(command, bolted, capsys):
    name, *more = command.split()
    code = main([name, str(CASE), *more, "--json"])
    said = capsys.readouterr().out
    assert json.loads(said) and code in (0, 1, 3)
    if name != "haul":  # which tells of the folded box alone
        assert "the made-up bolt is bent" in said or "made-up bolt" in said or "made_up" in said, said[:500]


def test_a_part_that_is_gone_is_seen(monkeypatch):
    without = tuple(part for part in PARTS if part.id is not PartId.HINGE)
    monkeypatch.setattr(registry, "PARTS", without)
    found = assess(Rig(read_case(CASE)))
    assert not any(worst.check.part == "hinge pin" for worst in found.worst)


def test_the_sag_of_the_floor_sheet_is_of_loads_at_rest():
    found = assess(Rig(read_case(CASE)))
    sags = [worst.check for worst in found.worst if worst.check.mode.startswith("sag ")]
    assert len(sags) >= 2 and not any(check.factored for check in sags)
    assert all(
        worst.check.factored
        for worst in found.worst
        if worst.check.part == "perch post base weld" and not worst.check.snag
    )
