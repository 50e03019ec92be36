"""US spelling in code, pages, cases and tests: none of the British forms of a list of our own, common practice."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
BRITISH = re.compile(
    r"(?<![a-z])(?:[a-z]*(?:utilis|organis|recognis|normalis|minimis|maximis|optimis|galvanis|authoris|emphasis(?=e)|"
    r"summaris|categoris|standardis|centr(?=e)|centring|colour|fibre|neighbour|behaviour|favour|honour|labour|harbour|"
    r"mould|plough|artefact|aluminium|manoeuvr|catalogue|analyse|paralyse|defence|offence|grey|judgement)[a-z]*|"
    r"licence|labelled|labelling|levelled|levelling|travelled|travelling|modelled|modelling|cancelled|signalled|"
    r"totalled|fulfil|skilful|tyres?|kerbs?|storeys?|cheques?|programmes?|whilst|towards|learnt|burnt|spelt)(?![a-z])"
)
ACCEPTED = re.compile(r"labelledby|metre|litre|\"(?:centre|centimetre|millimetre)")  # units as people type them; ARIA
WHERE = ("rigcheck", "tests", "docs", "cases", "README.md", "DEVELOPERS.md", "pyproject.toml")
TEXT = (".py", ".md", ".toml", ".json", ".html", ".css", ".js")


def files() -> list[Path]:
    found = []
    for name in WHERE:
        place = ROOT / name
        found += [place] if place.is_file() else [one for one in sorted(place.rglob("*")) if one.suffix in TEXT]
    return [one for one in found if one.name not in (Path(__file__).name, "LICENSE")]


def test_spelling_is_that_of_the_us():
    told = []
    for path in files():
        for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), 1):
            for found in BRITISH.finditer(ACCEPTED.sub("", line.lower()).replace("_", " ")):
                told.append(f"{path.relative_to(ROOT)}:{number}: {found[0]}")
    assert not told, "\n".join(told[:40])


def test_the_list_finds_what_it_is_for():
    for word in ("utilisation", "centre", "over_centre", "coloured", "neighbours", "grey", "levelling", "towards"):
        assert BRITISH.search(word.replace("_", " ")), word
    for word in ("utilization", "center", "labeled", "raise", "rise", "precise", "toward", "program", "otherwise"):
        assert not BRITISH.search(word), word
