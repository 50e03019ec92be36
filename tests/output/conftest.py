"""Results that the tests of the output look at: a starter rig as it is, and rigs that nothing can hold."""

import tomllib
from typing import Any

import pytest

from rigcheck.assessment.assess import Assessment, assess
from rigcheck.case import check_case
from rigcheck.case.rig import Rig
from rigcheck.output.check.result import Source, result
from tests.support.whole_rig import starter_text

TITLE = "Larkspur [red]Bar[/red], Größe 9"
SOURCE = Source(file="rig.toml", sha256="0f" * 32)


def assessed(**changes: dict[str, Any]) -> Assessment:
    """The starter with some keys of its tables replaced."""
    data = tomllib.loads(starter_text(title=TITLE))
    data["fold"]["to"] = "40 deg"  # as far as its line gets short
    for table, keys in changes.items():
        data.setdefault(table, {}).update(keys)
    return assess(Rig(check_case(data)))


@pytest.fixture(scope="session")
def assessment() -> Assessment:
    return assessed()


@pytest.fixture(scope="session")
def us(assessment: Assessment) -> dict[str, Any]:
    return result(assessment, source=SOURCE)


@pytest.fixture(scope="session")
def si(assessment: Assessment) -> dict[str, Any]:
    return result(assessment, source=SOURCE, system="si")


@pytest.fixture(scope="session")
def dead() -> dict[str, Any]:
    """The perch lies on the ray from the hinge through the hanger, so no tension holds the box."""
    return result(assessed(perch={"downstream": "110 in", "height": "-4 in"}), source=SOURCE)


@pytest.fixture(scope="session")
def pull_only() -> dict[str, Any]:
    """A device that may pull and not hold."""
    links = tomllib.loads(starter_text())["line"]["link"]
    for link in links:
        if link["kind"] == "lever hoist":
            link |= {"kind": "come-along", "rated_to_suspend": False}
    return result(assessed(line={"link": links}), source=SOURCE)
