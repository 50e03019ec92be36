"""Rules between the keys of a line and of its links, one function a rule."""

from collections.abc import Iterator

from rigcheck.case.errors import printable_line
from rigcheck.case.models.support import Line, Link
from rigcheck.case.reading.rules import Broken, Rule
from rigcheck.quantities import Bare
from rigcheck.tables.link_kinds import LINK_KINDS


def lead_needs_parts(line: Line) -> Iterator[Broken]:
    """Only a line of several parts has parts and a lead."""
    if line.parts > 1:
        return
    for number, link in enumerate(line.link):
        if link.carries != "line":
            yield Broken(
                "parts", f'is 1, so link {number + 1} cannot carry a "{link.carries}"; a single line carries the line'
            )


_LOOKED_UP = ("grade", "end", "table", "column")  # keys of a link whose words name a table or a part of one


def _rating(link: Link) -> Iterator[Broken]:
    rated = link.wll is not None
    what = LINK_KINDS[link.kind]
    if what.hoist:
        if not rated:
            yield Broken("wll", f"is missing; a {link.kind} is known only by the load marked on it")
        if link.rated_to_suspend is None:
            yield Broken(
                "rated_to_suspend", "is missing; is it marked for holding a hung load?", (Bare("true"), Bare("false"))
            )
    elif what.marked:
        if not rated:
            yield Broken("wll", f"is missing; a {link.kind} is known only by the load marked on it")
    elif link.kind == "wire rope":
        yield from _rope(link)
    elif not rated:
        needs = {"chain": ("size", "grade"), "turnbuckle": ("size", "end")}.get(link.kind, ("size",))
        left_out = [name for name in needs if getattr(link, name) is None]
        for name in left_out:
            yield Broken(name, f"is missing; this kind of link ({link.kind}) needs {' and '.join(needs)}, or wll")
    yield from _listed(link)
    if link.wll is not None and link.mbf is not None and link.mbf < link.wll:
        yield Broken("mbf", "is under wll; it is the force that breaks the link")


def _rope(link: Link) -> Iterator[Broken]:
    from_table = link.table is not None and link.diameter is not None
    if not from_table and link.mbf is None and link.wll is None:
        key = "diameter" if link.diameter is None else "table"
        yield Broken(key, "is missing; a rope needs table and diameter, or mbf, or wll")
    elif link.termination is None and link.wll is None:
        yield Broken(
            "termination", "is missing; how are its eyes made?", ("clips", "mechanical splice", "hand splice", "none")
        )
    if link.termination in ("clips", "clips reversed") and link.clips == 0:
        yield Broken("clips", "is 0 on a rope ended with clips")


def link_has_rating(link: Link) -> Iterator[Broken]:
    """A link is rated by its mark or by a table."""
    yield from _rating(link)


def backup_has_rating(link: Link) -> Iterator[Broken]:
    """A backup link is rated by its mark or by a table."""
    yield from _rating(link)


def second_link_has_rating(link: Link) -> Iterator[Broken]:
    """A link of the second line is rated by its mark or by a table, and carries the whole line."""
    yield from _rating(link)
    if link.carries != "line":
        yield Broken("carries", f'is "{link.carries}"; the second line is a single one', ("line",))


def _listed(link: Link) -> Iterator[Broken]:
    """A size that is looked up in a table is in that table, of a marked part too: its pin and width come from there."""
    from rigcheck.tables.errors import TableError  # tables are read only by the cases that use them
    from rigcheck.tables.hardware import chain, eyebolt, shackle, turnbuckle
    from rigcheck.tables.rope import clip_count, rope

    key, size = ("diameter", link.diameter) if link.kind == "wire rope" else ("size", link.size)
    if size is None:
        return
    try:
        if link.kind == "wire rope":
            if link.table is not None:
                rope(link.table, diameter=size, column=link.column or "")
            if link.termination == "clips":
                clip_count(size)
        elif link.kind == "chain" and link.grade is not None:
            chain(size, grade=link.grade)
        elif link.kind == "shackle":
            shackle(size, grade=link.grade or "carbon")
        elif link.kind == "turnbuckle":
            turnbuckle(size, end=link.end or "hook")
        elif link.kind == "eyebolt":
            eyebolt(size)
    except TableError as error:
        cure = "or give wll as marked" if link.wll is None else f"leave {key} out where the part is marked"
        word = next((name for name in _LOOKED_UP if getattr(link, name) == error.given), None)
        if word is None or link.wll is not None:
            yield Broken(key, f"{printable_line(str(error))}; {cure}")
        else:
            yield Broken(word, printable_line(error.reason), error.accepted)


RULES: tuple[Rule, ...] = (
    Rule(("line",), lead_needs_parts),
    Rule(("line.link",), link_has_rating),
    Rule(("line.backup",), backup_has_rating),
    Rule(("second_line.link",), second_link_has_rating),
)
