"""One page for the tests of a module that do not change its file."""

import pytest

from tests.page.running import case_in, page_of


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    with page_of(case_in(tmp_path_factory.mktemp("page"))) as running:
        yield running
