"""The numbers of a rig as a form made from the models: one row a key, with its meaning and its default."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import count
from typing import Any

from rigcheck.case.models.case import Case
from rigcheck.case.questions import LINKS, of_link
from rigcheck.case.schema.keys import default_text
from rigcheck.case.schema.kinds import Choice, Flag, Kind, Point, Quantity, Whole, is_unknown
from rigcheck.case.schema.sections import Field, fields_of
from rigcheck.output.html_page import words
from rigcheck.page import placing
from rigcheck.page.asked_first import label_of
from rigcheck.page.changes import Changes
from rigcheck.page.choices import list_of
from rigcheck.page.mirror import DO as DO_MIRROR
from rigcheck.page.mirror import has_sides, twins
from rigcheck.page.typed import field_of, found_at, location_of, text_of
from rigcheck.page.unknowns import DO, consequence, may_be_unknown
from rigcheck.wording.plain import PlainView

_TOOLS = (("up", "Up"), ("down", "Down"), ("drop", "Remove"), (DO_MIRROR, "Add its mirror image"))
_OPEN = ("box", "hanger", "perch", "line")
"""Parts that stand open at first: those that every case has."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What the form shows.

    Attributes:
        data: The numbers on the page.
        opened: Parts that are being described.
        problems: Key to what is wrong with it.
        echo: Key to how its text was understood.
        frozen: Whether nothing may be changed.
        first: Keys that are asked before all others, in this order.
        ids: Numbers for what a field is described by.
        told: Keys whose meaning is written already, with the number under which it stands.
    """

    data: PlainView
    opened: tuple[str, ...] = ()
    problems: Mapping[str, str] = field(default_factory=dict)
    echo: Mapping[str, str] = field(default_factory=dict)
    frozen: bool = False
    first: tuple[str, ...] = ()
    ids: Iterator[int] = field(default_factory=count)
    told: dict[Field, int] = field(default_factory=dict)


def form_html(shown: Shown) -> str:
    """The whole form, a part of the rig after the other."""
    plain = [one for one in fields_of(Case).values() if one.section is None and one.word not in shown.first]
    top = "".join(_row(one, one.word, shown.data, shown) for one in plain)
    parts = "".join(_part(one, one.word, shown.data, shown) for one in fields_of(Case).values() if one.section)
    return f'{_first(shown)}<details class="part" open><summary>rig</summary>{top}</details>{parts}'


def _first(shown: Shown) -> str:
    """The first questions, each with its number; what is not known is left empty."""
    if not shown.first:
        return ""
    rows = ""
    for path in shown.first:
        data = found_at(shown.data, location_of(path)[:-1])
        rows += _row(field_of(path), path, data, shown, label=label_of(path))
    text = (
        "Answer what you know, with its unit; leave the rest empty. Nothing is filled in for you. What keeps a part "
        "from being assessed stands under Why then, the most decisive first."
    )
    head = '<details class="part" id="first" open><summary>first questions</summary>'
    return f'{head}<p class="about">{text}</p>{rows}</details>'


def hidden_state(changes: Changes) -> str:
    """What the form must send besides its fields, so that it works without a script."""
    parts = {path: text for path, text in changes.typed.items() if text is None and _is_part(path)}
    plain = {**changes.plain, "typed": parts}
    return f'<input type="hidden" name="state" value="{words(json.dumps(plain))}">'


def _is_part(path: str) -> bool:
    return field_of(path).section is not None


def _part(one: Field, path: str, data: Any, shown: Shown) -> str:
    """A table of the case: described, not described, or repeated."""
    inside = data.get(one.word) if isinstance(data, Mapping) else None
    inside = None if is_unknown(inside) else inside
    if one.repeated:
        return _rows(one, path, inside if isinstance(inside, list) else [], shown)
    there = inside is not None or path in shown.opened or one.about.default == {} or one.required
    if not there:
        what = _consequence(one)
        button = "" if shown.frozen else _button(f"describe {path}", "Describe it", f"Describe {_title(path)}")
        return f'<div class="part absent" id="p-{path}"><h3>{_title(path)}</h3><p>{words(what)}</p>{button}</div>'
    body = "".join(_fields(one, path, inside if isinstance(inside, Mapping) else {}, shown))
    out = ""
    if not one.required and not shown.frozen and (inside is not None or path in shown.opened):
        out = _button(f"out {path}", "Take it out", f"Take {_title(path)} out")
    begun = " open" if path in _OPEN or path in shown.opened or _wrong(path, shown) else ""
    return f'<details class="part" id="p-{path}"{begun}><summary>{_title(path)}</summary>{body}{out}</details>'


def _fields(one: Field, path: str, data: PlainView, shown: Shown) -> Iterator[str]:
    assert one.section is not None
    about = (one.section.__doc__ or "").strip().split("\n")[0]
    yield f'<p class="about">{words(about)}</p>'
    inner = fields_of(one.section).values()
    plain = [each for each in inner if each.section is None]
    near = [each for each in plain if _wanted(each, data, rest=len(plain) <= _FEW)]
    yield from (_row(each, f"{path}.{each.word}", data, shown) for each in near)
    if len(near) < len(plain):
        more = "".join(_row(each, f"{path}.{each.word}", data, shown) for each in plain if each not in near)
        yield f'<details class="part" id="p-{path}-more"><summary>more of it</summary>{more}</details>'
    yield from (_part(each, f"{path}.{each.word}", data, shown) for each in inner if each.section is not None)


def _wanted(field: Field, data: PlainView, *, rest: bool) -> bool:
    """Whether a key stands at once: one that is given or needed, and of a link those that its kind is asked for."""
    kind = data.get("kind")
    asked = ("kind", "name", "count", *of_link(kind)) if isinstance(kind, str) else ()
    return rest or field.word in data or field.required or field.word in asked


def _rows(one: Field, path: str, rows: list[Any], shown: Shown) -> str:
    body = ""
    name = _title(path)
    pairs = {} if one.section is None or shown.frozen or not has_sides(one.section) else twins(one.section, rows)
    for number, row in enumerate(rows, 1):
        here = f"{path}[{number}]"
        kind = row.get("kind") or row.get("name") or "" if isinstance(row, Mapping) else ""
        does = _TOOLS[: None if one.section is not None and has_sides(one.section) else -1]
        if path == placing.TABLE and isinstance(row, Mapping) and placing.lacks_an_end(row):
            does = ((placing.DO, "Put it at the tail, to be dragged"), *does)
        tools = "" if shown.frozen else "".join(
            _button(f"{do} {path} {number}", label, f"{label}: {name} {number}") for do, label in does
        )  # fmt: skip
        inner = "".join(_fields(one, here, row if isinstance(row, Mapping) else {}, shown))
        begun = " open" if _wrong(here, shown) or (shown.first and path == LINKS) else ""
        title = f"{name} {number}{f': {text_of(kind)}' if kind else ''}"
        twin = f' data-twin="{path} {number} {pairs[number]}"' if number in pairs else ""
        body += (
            f'<details class="part row-of" id="p-{here}"{begun}{twin}><summary>{words(title)}</summary>'
            f"{_goes_along(name, pairs.get(number))}{inner}"
            f'<div class="tools">{tools}</div></details>'
        )
    add = "" if shown.frozen else _button(f"add {path}", f"Add {_article(name)}", f"Add {_article(name)}")
    none = "" if rows else f"<p>{words(_consequence(one))}</p>"
    problem = shown.problems.get(path, "")
    told = f'<p class="wrong" id="e-{path}">{words(problem)}</p>'
    return f'<section class="part rows" id="p-{path}"><h3>{name}</h3>{told}{none}{body}{add}</section>'


def _goes_along(name: str, other: int | None) -> str:
    """Whether the mirror image of a row takes over what is typed into it, unless it is told not to."""
    if other is None:
        return ""
    ways = '<option value="yes">goes with it</option><option value="">stays as it is</option>'
    said = f"<span>{words(name)} {other}, its mirror image,</span>"
    return f'<label class="twin">{said} <select class="with">{ways}</select></label>'


NOTHING = "not given"
_FEW = 14  # keys of a table that all stand at once


def _row(one: Field, path: str, data: Any, shown: Shown, *, label: str = "") -> str:
    """One key; nothing where it stands among the first questions already."""
    if path in shown.first and not label:
        return ""
    said = label or one.word.replace("_", " ")
    given = data.get(one.word) if isinstance(data, Mapping) else None
    text = text_of(given)
    wrong, echo = shown.problems.get(path, ""), shown.echo.get(path, "")
    mark = "not known" if is_unknown(given) else "yours" if given is not None else _mark(one)
    unless = consequence(one)
    meaning = one.about.meaning + _limits(one.kind) + (f"; not known: {unless}" if unless else "")
    if label and isinstance(one.about.example, str):
        meaning += f"; such as {one.about.example}"
    number = next(shown.ids)
    control = _control(one, path, text, shown, about=f"m{number}")
    bad = ' class="bad"' if wrong else ""
    told = f'<em id="e-{path}">{words(wrong)}</em>' if wrong else ""
    heard = f'<i id="q-{path}">{words(echo)}</i>' if echo else ""
    know = ""
    if may_be_unknown(one) and not shown.frozen:
        know = f'<button name=do value="{DO} {path}">I don\'t know</button>'
    first = shown.told.setdefault(one, number) if not label else number
    about = f"<p id=m{number}><b>{mark}</b>; {words(meaning)}</p>"
    if first != number:  # the script writes it out; a page of many rows stays small
        about = f"<p id=m{number} data-as=m{first}><b>{mark}</b></p>"
    return f"<div{bad}><label><span>{words(said)}</span>{control}</label>{know}{about}{told}{heard}</div>"


def _control(one: Field, path: str, text: str, shown: Shown, *, about: str) -> str:
    wrong = path in shown.problems
    described = f' aria-describedby="{about} e-{path}" aria-invalid=true' if wrong else ""  # else the script says it
    tail = f"id=k-{path} name={path}{described}" + (" disabled" if shown.frozen else "")
    empty = _empty(one)
    kind = one.kind
    if isinstance(kind, Choice | Flag):
        choices = kind.choices if isinstance(kind, Choice) else ("true", "false")
        said = {"true": "yes", "false": "no"} if isinstance(kind, Flag) else {}
        if text and text not in choices:
            choices = (*choices, text)
        options = "".join(_option(each, said=said.get(each, ""), chosen=each == text) for each in choices)
        return f'<select {tail}><option value="">{words(empty)}</option>{options}</select>'
    listed = list_of(path, kind)
    offers = f' list="{listed}"' if listed else ""
    value = f' value="{words(text)}"' if text else ""
    unless = "" if empty == NOTHING else f' placeholder="{words(empty)}"'  # the mark says that it is not known
    return f"<input {tail}{value}{unless}{offers}>"


def _option(value: str, *, said: str, chosen: bool) -> str:
    own = f' value="{words(value)}"' if said else ""
    return f"<option{own}{' selected' if chosen else ''}>{words(said or value)}</option>"


def _empty(one: Field) -> str:
    """What an empty field says: the default that is taken, or that nothing is."""
    if one.required:
        return "needed"
    text = default_text(one).strip('"') or one.about.derived
    if isinstance(one.kind, Flag):
        text = {"true": "yes", "false": "no"}.get(text, text)
    return f"{text}, taken" if text else NOTHING


def _mark(one: Field) -> str:
    if one.required:
        return "needed"
    return "default taken" if default_text(one) or one.about.derived else "not known"


def _limits(kind: Kind | None) -> str:
    """Least and most, as they are written."""
    if isinstance(kind, Whole) or (isinstance(kind, Quantity) and None not in (kind.least, kind.most)):
        return f"; {kind.least} to {kind.most}"
    return "; three lengths with commas between" if isinstance(kind, Point) else ""


def _consequence(one: Field) -> str:
    """What follows where a part is not described."""
    about = one.about.meaning.split(";")
    load_path = one.word in ("lug", "post", "cross_member", "end_tube", "wall_seam", "floor_seam", "eyelet")
    meaning = about[0]
    tail = "not described, so not assessed" if load_path else "not described"
    return f"{meaning}: {tail}" if meaning else tail


def _wrong(path: str, shown: Shown) -> bool:
    return any(key == path or key.startswith((f"{path}.", f"{path}[")) for key in shown.problems)


def _button(do: str, label: str, name: str) -> str:
    said = "" if label == name else f' aria-label="{words(name)}"'
    return f'<button class=small name=do value="{words(do)}"{said}>{words(label)}</button>'


def _title(path: str) -> str:
    return words(path.rpartition(".")[2].replace("_", " "))


def _article(name: str) -> str:
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"
