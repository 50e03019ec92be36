"""Write docs/cases.md, the page about the case file, from the models and the rules."""

import sys
from collections.abc import Callable, Iterator

from rigcheck.case.built import built_words
from rigcheck.case.models.case import Case
from rigcheck.case.reading.read import RULES
from rigcheck.case.schema.keys import default_text, kind_words, toml_text
from rigcheck.case.schema.kinds import ShapeName, SteelName, Words
from rigcheck.case.schema.sections import MUST_BE_KNOWN, Field, Section, fields_of
from rigcheck.quantities import DIMENSIONS, accepted_forms, accepted_units

_HEAD = """\
# The case file

<!-- Written by `python -m rigcheck.case.docs.page`; edit the models, not this page. -->

A case is one TOML text file that describes one rig. `rigcheck new` writes one of what you say. A key that is not
listed here is an error, so a misspelt key is never passed over; all errors of a file are reported together.
Required are `title`, `[box]`, `[hanger]`, `[perch]` and at least one `[[line.link]]`. Everything else may be left
out: a key then takes the default shown, and every report lists the defaults it used. A part that is not described
is reported as not assessed, never as good.

In error messages and reports `line.link[2].wll` is the key `wll` of the second `[[line.link]]` of the file.

Lengths along the box (s) run on the floor from the hinge toward the tail, n is square to the floor and up, y is
across with left positive looking downstream. On the plant x is level and downstream from the hinge axis, z is up.

## Numbers with units

A number with a unit is written in quotes: `length = "6 ft 8 in"`. Only plain numbers stand without quotes.
lb is a force. kg is the weight of that mass under standard gravity. A ton is 2000 lb, t is a metric tonne, gpm
are US gallons. Fractions are written `3/8`, `1 1/2` or `1-1/2`. Units are spelled exactly as below.

| What | Examples | Units |
|---|---|---|
"""
_WHOLE = """\
## A whole case

The folder `cases/` holds whole rigs to learn from, each over, tight or within by another part. `rigcheck new` writes a
file that holds what you say and nothing else, every other key in it as a commented example.
"""


def page() -> str:
    """The whole page."""
    text = _HEAD
    for dimension in DIMENSIONS:
        forms = ", ".join(f"`{form}`" for form in accepted_forms(dimension))
        units = ", ".join(f"`{unit}`" for unit in accepted_units(dimension))
        text += f"| {dimension} | {forms} | {units or 'no unit, no quotes'} |\n"
    text += "\n## Top of the file\n\n" + _keys_table(Case)
    for name, field in fields_of(Case).items():
        if field.section is not None:
            text += _section(field.section, name, field)
    text += _unknowns()
    text += "\n## Rules between keys\n\n" + "".join(f"- {rule.sentence}\n" for rule in RULES)
    return f"{text}\n{_WHOLE}"


_NOT_KNOWN = """
## What you do not know

`"unknown"` may be written for every key and table that may be left out. It is never better than leaving it out, and
what stands for it is named in every result: under Assumptions, among what is not assessed, or as a finding.

| Said to be unknown | What stands for it |
|---|---|
"""
_NEEDED = "refused by name: it must be known before anything, or anything of its table, can be computed"


def _unknowns() -> str:
    """What each kind of key costs when it is said to be unknown."""
    every = list(all_fields())
    rows = [
        (f"`{path}`", f"`{toml_text(field.about.lowest)}`, the lowest")
        for path, field in every
        if field.about.lowest is not None and field.kind is not None
    ]

    def names(wanted: Callable[[str, Field], bool]) -> str:
        return ", ".join(f"`{path}`" for path, field in every if wanted(path, field))

    def plain(field: Field) -> bool:
        return field.about.lowest is None and not field.required

    steels = names(lambda _, field: isinstance(field.kind, SteelName))
    shapes = names(lambda _, field: isinstance(field.kind, ShapeName))
    tables = names(lambda _, field: field.section is not None and plain(field) and field.about.default in (None, ()))
    nothing = names(lambda _, field: field.kind is not None and plain(field) and not _stands(field))
    rows += [
        (steels, "the lowest grade of the table"),
        (f'the wall in {shapes}, as `"HSS2x2, wall unknown"` or `"pipe 1-1/2 unknown"`',
         "the thinnest wall that is listed of that size; its weight is that of this wall too: weigh the box"),
        (tables, "nothing: not assessed where the load path needs it, else not there and not counted on"),
        (nothing, "nothing: what needs it is not assessed or does not count, and says so by name"),
        ("every other key that has a default", "the default, which its table above shows"),
        (names(lambda _, field: field.about.lowest is MUST_BE_KNOWN), "refused by name: it has weight; weigh it"),
        (names(lambda _, field: field.required and not isinstance(field.kind, Words)), _NEEDED),
    ]  # fmt: skip
    return _NOT_KNOWN + "".join(f"| {what} | {stands} |\n" for what, stands in rows)


def _stands(field: Field) -> bool:
    """Whether something stands for a key that is left out."""
    return field.about.default is not None or bool(field.about.derived)


def all_fields(section: type[Section] = Case, *, above: str = "") -> Iterator[tuple[str, Field]]:
    """Every key and table with its path, repeated tables without their number."""
    for field in fields_of(section).values():
        path = f"{above}{field.word}"
        yield path, field
        if field.section is not None:
            yield from all_fields(field.section, above=f"{path}.")


def _section(section: type[Section], path: str, field: Field) -> str:
    opening = f"[[{path}]]" if field.repeated else f"[{path}]"
    needed = " Required." if field.required else ""
    many = " Any number of them." if field.repeated and not field.required else ""
    text = f"\n## `{opening}`\n\n{(section.__doc__ or '').strip()}{needed}{many}\n\n{_keys_table(section)}"
    for name, inner in fields_of(section).items():
        if inner.section is None:
            continue
        if path == "line" and name == "backup":
            text += "\n## `[[line.backup]]`\n\nLinks of the backup, with the keys of `[[line.link]]`.\n"
        elif path == "second_line":
            text += "\n## `[[second_line.link]]`\n\nLinks of the second line, with the keys of `[[line.link]]`.\n"
        elif path == "perch" and name == "lug":
            text += "\n## `[perch.lug]`\n\nThe perch lug, with the keys of `[hanger.lug]`.\n"
        else:
            text += _section(inner.section, f"{path}.{name}", inner)
    return text


def _keys_table(section: type[Section]) -> str:
    rows = ""
    for field in fields_of(section).values():
        if field.section is not None:
            continue
        about = field.about
        default = "**required**" if field.required else _default(default_text(field), about.derived)
        example = "" if about.example is None else f"`{toml_text(about.example)}`"
        asked = f"; asked about outside {built_words(field)}" if about.built else ""
        rows += f"| `{field.word}` | {about.meaning} | {kind_words(field)}{asked} | {default} | {example} |\n"
    return f"| Key | Meaning | Kind | Default | Example |\n|---|---|---|---|---|\n{rows}" if rows else ""


def _default(text: str, derived: str) -> str:
    return f"`{text}`" if text else derived or "none"


if __name__ == "__main__":
    sys.stdout.write(page())
