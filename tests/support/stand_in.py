"""Something that stands for a solution where a test needs rows alone; how they are selected is the solution's own."""

from types import SimpleNamespace

from rigcheck.analysis.solve import Solution


class Selects:
    """Rows as a solution selects them."""

    accidents = Solution.accidents
    before_road = Solution.before_road
    looked_at = Solution.looked_at

    def once(self, build):
        return build(self)


class Rows(Selects, SimpleNamespace):
    """Rows with what a test gives beside them."""
