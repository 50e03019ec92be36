"""What a rule between keys is, and how all rules are put to the parts of a case."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from rigcheck.case.errors import Location, Problem, key_path
from rigcheck.case.schema.sections import Section


class Broken(NamedTuple):
    """A broken rule.

    Attributes:
        key: The key it hangs on, below the first part that the rule needs; empty for that part itself.
        why: What is wrong.
        accepted: What would do.
    """

    key: str
    why: str
    accepted: tuple[str, ...] = ()


class Rule(NamedTuple):
    """One rule; its sentence is the first line of its test.

    Attributes:
        needs: Paths of the parts that it looks at, repeated tables without their number; the first may be repeated.
        test: Takes those parts, yields what is broken.
    """

    needs: tuple[str, ...]
    test: Callable[..., Iterator[Broken]]

    @property
    def sentence(self) -> str:
        """The rule in words."""
        return (self.test.__doc__ or "").strip()


def broken_rules(rules: Iterable[Rule], *, parts: Mapping[Location, Section], file: str) -> list[Problem]:
    """Everything that is broken among the parts that are there; a rule whose parts are not all there is passed over.

    Args:
        rules: The rules.
        parts: Location to a valid section of the case.
        file: What the problems call the file.
    """
    by_path: dict[str, list[tuple[Location, Any]]] = {}
    for location, part in parts.items():
        words = ".".join(step for step in location if isinstance(step, str))
        by_path.setdefault(words, []).append((location, part))
    problems = []
    for rule in rules:
        if any(path not in by_path for path in rule.needs):
            continue
        others = [by_path[path][0][1] for path in rule.needs[1:]]
        for location, part in by_path[rule.needs[0]]:
            for found in rule.test(part, *others):
                steps = (int(step) if step.isdigit() else step for step in found.key.split(".") if step)
                path = key_path((*location, *steps))
                problems.append(Problem(file, path, found.why, found.accepted))
    return problems
