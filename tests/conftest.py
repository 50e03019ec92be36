"""Which tests are quick, and patience for drawn ones: a machine that does other work is slow now and then.

`quick` is everything that answers within a minute together and looks into every room; it is told here and not in each
file, so that the list can be read at once.
"""

import pytest
from hypothesis import settings

settings.register_profile("patient", deadline=None)
settings.load_profile("patient")

QUICK_FOLDERS = frozenset({"case", "loads", "quantities", "statics", "strength", "tables"})
QUICK_FILES = frozenset({
    "test_aisc.py", "test_bth1.py", "test_faults.py", "test_field.py", "test_fold.py", "test_folded.py",
    "test_folding.py", "test_haul.py", "test_hung_findings.py", "test_keeping.py", "test_layers.py", "test_limits.py",
    "test_lines.py", "test_links.py", "test_links_fit.py", "test_missing.py", "test_new.py", "test_posts.py",
    "test_result.py", "test_seams.py", "test_several_files.py", "test_tables.py", "test_tables_view.py",
    "test_terminal.py", "test_tiedown.py", "test_trial.py", "test_welds.py", "test_why.py", "test_words.py",
})  # fmt: skip
ONE_CASE = frozenset({"test_life_properties.py", "test_relations.py", "test_working_checks.py"})
"""Files of which the tests of one shipped case are quick."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        one_case = item.path.name in ONE_CASE and "larkspur-bar" in item.name
        if one_case or item.path.name in QUICK_FILES or item.path.parent.name in QUICK_FOLDERS:
            item.add_marker("quick")
