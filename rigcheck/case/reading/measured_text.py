"""Put what was measured into the text of a case file, everything else left as it stands."""

import re
from collections.abc import Mapping

from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.models.use import Measured
from rigcheck.case.reading.read import read_case_text
from rigcheck.case.schema.sections import fields_of, stated

_HEAD = re.compile(r"^[ \t]*\[[ \t]*measured[ \t]*\][ \t]*(#.*)?$")
_ANY_HEAD = re.compile(r"^[ \t]*\[")
_KEY = re.compile(rf"^[ \t]*(?:{'|'.join(field.word for field in fields_of(Measured).values())})[ \t]*=")


def with_measured(text: str, keys: Mapping[str, str], *, name: str) -> str:
    """The text of a case with its `[measured]` table holding these keys and no others.

    Args:
        text: A case file that can be read.
        keys: Key to value as written in a file, without its quotes.
        name: What a problem calls the file.

    Returns:
        The new text, which reads as the same case but for what was measured.

    Raises:
        CaseError: The file writes `[measured]` in a form that cannot be taken apart line by line.
    """
    lines, new = text.splitlines(), [f'{key} = "{value}"' for key, value in keys.items()]
    at = next((i for i, line in enumerate(lines) if _HEAD.match(line)), None)
    if at is None:
        lines += ["", "[measured]", *new]
    else:
        end = next((i for i in range(at + 1, len(lines)) if _ANY_HEAD.match(lines[i])), len(lines))
        kept = [line for line in lines[at + 1 : end] if not _KEY.match(line)]
        lines[at + 1 : end] = [*new, *kept]
    changed = "\n".join(lines) + "\n"
    try:
        found = read_case_text(changed, name=name)
    except CaseError:
        found = None
    before = read_case_text(text, name=name)
    alike = found is not None and all(
        getattr(found, part) == getattr(before, part) for part in fields_of(type(before)) if part != "measured"
    )
    if found is None or not alike or stated(found.measured) != frozenset(keys):
        why = "is written in a form that cannot be changed line by line; put the keys in by hand"
        raise CaseError([Problem(name, "measured", why)])
    return changed
