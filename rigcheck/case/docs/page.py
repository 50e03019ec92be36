"""Write docs/cases.md, the page about the case file, from the models and the rules."""

import sys

from rigcheck.case.models.case import Case
from rigcheck.case.reading.read import RULES
from rigcheck.case.schema.keys import default_text, kind_words, toml_text
from rigcheck.case.schema.sections import Field, Section, fields_of
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
    text += "\n## Rules between keys\n\n" + "".join(f"- {rule.sentence}\n" for rule in RULES)
    return f"{text}\n{_WHOLE}"


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
        rows += f"| `{field.word}` | {about.meaning} | {kind_words(field)} | {default} | {example} |\n"
    return f"| Key | Meaning | Kind | Default | Example |\n|---|---|---|---|---|\n{rows}" if rows else ""


def _default(text: str, derived: str) -> str:
    return f"`{text}`" if text else derived or "none"


if __name__ == "__main__":
    sys.stdout.write(page())
