"""What the study of hardware finds: for each link and steel part the smallest standard size that passes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from rigcheck.studies.vary.case import Value

AS_IT_IS = ", as it is"  # ends the words of a part that is left as it is


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One size that a part can have.

    Attributes:
        words: As a shop names it.
        changes: Keys of the case that make it so.
        tag: Rating to look for on the tag, or grade; empty for steel.
        use: Utilization of the part with it, the rest of the rig as it is; None before it is known.
        fits: False where it does not go with the lug it hangs on, or with others of its kind.
        why_not: What keeps it from fitting, in words.
    """

    words: str
    changes: Mapping[str, Value]
    tag: str = ""
    use: float | None = None
    fits: bool = True
    why_not: str = "does not go with its neighbors"


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The answer for one part.

    Attributes:
        part: What it is, as the checks call it.
        count: How many the rig needs, both sides together.
        now: What the case has.
        use_now: Utilization as it is.
        chosen: The smallest size that is used no more than `max_utilization`; None where no listed size does.
        smaller: The next smaller one, which does not pass; None where the chosen one is the smallest listed.
        source: Table with clause, or that the sizes are steps of our own.
        listed: True where the sizes are those of a published table.
        needs: Least rating that would do, for what no table lists; 0 for what a table lists. [lbf]
        most: Largest rating that would do, as what a hoist pulls on stands no more; 0 where none is known. [lbf]
        note: What else to mind.
        by_mark: Keys of the case for a part of the rating that is needed, where no table lists it.
    """

    part: str
    count: int
    now: str
    use_now: float
    chosen: Size | None
    smaller: Size | None
    source: str
    listed: bool
    needs: float = 0.0
    most: float = 0.0
    note: str = ""
    by_mark: Mapping[str, Value] = field(default_factory=dict)

    @property
    def changes(self) -> Mapping[str, Value]:
        """Keys of the case once the part is bought."""
        return self.by_mark if self.chosen is None else self.chosen.changes


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """The whole shopping list.

    Attributes:
        choices: One for each link and steel part that the case describes.
        max_utilization: Utilization that no choice may exceed. [1]
        settled: Parts that must be larger once every choice is made, as others became smaller.
        together: Highest utilization of the rig with every choice made at once, those larger ones in place.
        governs: Part, mode and state that govern then.
        stops: Codes of what stops the rig then.
        not_assessed: Load-path parts that the case does not describe.
    """

    choices: tuple[Choice, ...]
    max_utilization: float
    settled: tuple[Choice, ...]
    together: float
    governs: tuple[str, str, str]
    stops: tuple[str, ...]
    not_assessed: tuple[str, ...]
