"""What the sections of a worked calculation share: units, what has been worked before, and how each one ends."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any

from rigcheck.analysis.rows import Check
from rigcheck.assessment.assess import Assessment
from rigcheck.calculation.free_body import Body
from rigcheck.calculation.measures import Units
from rigcheck.calculation.pages import Section
from rigcheck.calculation.sheet import Known, Sheet, Symbol
from rigcheck.calculation.spot import Spot, spot
from rigcheck.calculation.whole_box import Shown, whole_box
from rigcheck.quantities import System
from rigcheck.quantities.measures import FORCE, NUMBER
from rigcheck.wording.scale import Scale, ratio


@dataclass(slots=True)
class Book:
    """One worked calculation as it is written.

    Attributes:
        assessment: The answer for one rig.
        system: Units of the output.
        states: States looked at; all of them where not said.
        among: Checks looked at; all of them where not said.
        at: Part and mode looked at last.
        worked: Checks that have a section.
    """

    assessment: Assessment
    system: System = "us"
    states: frozenset[str] | None = None
    among: Callable[[Check], bool] | None = None
    at: str = ""
    worked: list[Check] = field(default_factory=list)
    _worked: dict[tuple[int, int, bool, bool], str] = field(default_factory=dict)
    _placed: dict[float, str] = field(default_factory=dict)
    _loaded: dict[tuple[int, bool], str] = field(default_factory=dict)
    _once: dict[tuple[Any, ...], str] = field(default_factory=dict)
    _bodies: dict[tuple[int, int, bool, bool], tuple[Body, dict[str, Known]]] = field(default_factory=dict)
    _writing: str = ""

    def sheet(self) -> Sheet:
        """An empty sheet in the units of the book."""
        return Sheet(Units(self.system))

    def begin(self, part: str) -> None:
        """Say which section is being written."""
        self._writing, self.at = part, ""

    @contextmanager
    def only(self, wanted: Check) -> Iterator[None]:
        """Look at one check alone."""
        before, self.among = self.among, lambda check: check is wanted
        try:
            yield
        finally:
            self.among = before

    def spot(self, accept: Callable[[Check], bool], *, road: bool = True) -> Spot | None:
        """The worst check of a kind among the states of the book."""
        among = self.among

        def both(check: Check) -> bool:
            return accept(check) and (among is None or among(check))

        found = spot(self.assessment, scale=Scale(self.system), accept=both, states=self.states, road=road)
        self.at = "" if found is None else found.title
        return found

    def whole_box(self, sheet: Sheet, at: Spot, *, factored: bool = True, hinge: bool = False) -> Body:
        """Tensions and hinge forces: written out once for each row and way of sharing, then only recalled."""
        key = (at.index, at.bound, factored, hinge)
        before = self._worked.get(key) or self._worked.get((*key[:3], True))
        shown = Shown(place=self._placed.get(float(at.row.fold), ""), loads=self._loaded.get((at.index, factored), ""))
        body = self._recalled(sheet, key) if before is not None else None
        if body is None:
            already = sheet.everything()
            with sheet.silence(before is not None):
                body = whole_box(sheet, at, factored=factored, hinge=hinge, shown=shown)
            new = {name: known for name, known in sheet.everything().items() if already.get(name) is not known}
            self._bodies[key] = (_copied(body), new)
        if before is None:
            self._worked[key] = self._writing
            self._placed.setdefault(float(at.row.fold), self._writing)
            self._loaded.setdefault((at.index, factored), self._writing)
        else:
            told = [*body.tension, *(force for pair in body.hinge for force in pair)]
            sheet.recall(*told)
            sheet.note(
                f"Tensions{' and hinge forces' if hinge else ''} of this case and sharing: worked under {before!r}."
            )
        return body

    def _recalled(self, sheet: Sheet, key: tuple[int, int, bool, bool]) -> Body | None:
        """A free body that was worked out before, its symbols known to a sheet; None where there is none."""
        if key not in self._bodies:
            return None
        body, known = self._bodies[key]
        sheet.learn(known)
        return _copied(body)

    @contextmanager
    def once(self, sheet: Sheet, key: tuple[Any, ...], *, words: str) -> Iterator[str]:
        """Write something out the first time it comes up; later only say where that was.

        Args:
            sheet: Where it is written.
            key: What tells it from others.
            words: What it is.

        Yields:
            The section that has it, empty where this is the first time.
        """
        before = self._once.get(key, "")
        with sheet.silence(bool(before)):
            yield before
        if sheet.quiet:
            return
        if before:
            sheet.note(f"{words}: worked under {before!r}.")
        else:
            self._once[key] = self._writing

    def use(self, sheet: Sheet, at: Spot, *, demand: Any, capacity: Any, heading: str = "Utilization") -> Symbol:
        """Demand over capacity, the last step of a section; of a part that holds nothing only that is told."""
        if sheet.value(capacity) == 0.0:
            return sheet.find("Nothing is allowed on it: over under any load", "R_0", capacity, FORCE)
        return sheet.find(
            heading,
            "U",
            demand / capacity,
            NUMBER,
            rounding="up",
            engine=at.utilization,
            against=1.0,
        )

    def section(self, part: str, at: Spot, sheet: Sheet, *, more: Sequence[str] = ()) -> Section:
        """The finished section."""
        self.worked.append(at.check)
        return Section(
            part=part,
            title=at.title,
            intro=" ".join((at.where, *more)),
            steps=tuple(sheet.steps),
            utilization=ratio(at.utilization),
            verdict=at.verdict,
            demand=at.scale.one(at.of(at.check.demand), dimension=at.dimension),
            capacity=at.scale.one(at.of(at.check.capacity), dimension=at.dimension),
            unit=at.scale.label(at.dimension),
        )

    def missing(self, part: str, why: str) -> Section:
        """A section without steps."""
        return Section(part=part, title=f"{part}: not worked", intro=f"Nothing to work out: {why}{self._dead()}.")

    def _dead(self) -> str:
        """Why even a part that is described may have nothing."""
        solution = self.assessment.solution
        among = [i for i, row in enumerate(solution.rows) if self.states is None or row.state in self.states]
        dead = all(bool(solution.demand.dead[i]) for i in among)
        return ", or cannot be told where the line passes through the hinge axis" if dead else ""


def _copied(body: Body) -> Body:
    """The same body, whose symbols a section may add to."""
    return replace(body, place=dict(body.place))


def tension_of(book: Book, sheet: Sheet, at: Spot) -> Symbol:
    """Tension of the spot's line; of a folded box on the road it is only told, straps and stops being in it."""
    letter = "LR"[at.side]
    if at.on_road:
        value = at.solution.demand.tension[at.at]
        return sheet.given(
            f"T_{letter}", value, FORCE, f"{at.side_word} line, from straps, stops and lines together (haul)"
        )
    return book.whole_box(sheet, at).tension[at.side]
