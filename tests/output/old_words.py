"""Words that readers were once shown and are no more: none of them stands on a screen, in a card or in a result."""

import re
from collections.abc import Iterator

OLD = (
    r"utili[s]ation", r"highest use", r"\buse of\b", r"\bUse\b(?=  +)", r"demand of capacity", r"wall torn",
    r"anchor match", r"splitting", r"tear-out on two", r"pull at its root", r"push with bending", r"droop",
    r"dead point", r"road envelope", r"low (?:left|right)\b", r"would cure", r"not enough", r"second opinion",
    r"(?:solved|checked) anew", r"\blimp\b", r"stiff box", r"worn hinge", r"one line parts", r"line[_ ]lost",
    r"other line gone",
    r"cleanup", r"clean-up", r"case says", r"give or take", r"one lump", r"a set that stays", r"was weighed",
    r"what was weighed", r"moved a little", r"held against", r"forces as they are",
    r"loads as they are", r"the forgotten", r"find them out", r"of each pound", r"slope of the planes",
    r"\brow by row\b", r"in every row", r"in no row", r"hooked anew", r"re-hook", r"turns (?:in|out)\b", r"hardest",
    r"clear cover", r"over cent(?:er|re)", r"static x", r"\((?:seen|memory)\)", r"(?:seen|memory)\)",
    r"basis:? lifting", r"basis:? frame\b", r"growth of the moments", r"width that works", r"left by the play",
    r"taken over from",
)  # fmt: skip
"""Each as a pattern; Source: the list of words of this tool, where each has its successor."""
_OLD = re.compile("|".join(OLD))


def old_words(text: str) -> list[str]:
    """Places of a text that have an old word, each with what stands around it."""
    plain = " ".join(text.split())
    return [plain[max(found.start() - 30, 0) : found.end() + 30] for found in _OLD.finditer(plain)]


def strings(data: object) -> Iterator[str]:
    """Every text in data, keys left out."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from strings(value)
    elif isinstance(data, list):
        for value in data:
            yield from strings(value)
