"""The pages hold: every anchor that the code cites exists, and every command line in them runs."""

import re
import shlex
import shutil
from pathlib import Path

import pytest

from tests.support.lot import call

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
PAGES = sorted(DOCS.glob("*.md"))
CITED = re.compile(r"docs/([a-z-]+\.md)(?:#([a-z0-9-]+))?")
LINE = re.compile(r"^ {4}(rigcheck .+)$", re.MULTILINE)


def anchors(page: Path) -> set[str]:
    heads = re.findall(r"^#+ +(.+?) *$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^a-z0-9 -]", "", head.lower()).replace(" ", "-") for head in heads}


def test_pages_are_these():
    names = ["cases", "changelog", "faq", "glossary", "job", "library", "limits", "method", "page", "verification"]
    assert [page.stem for page in PAGES] == names


def test_every_cited_anchor_is_a_heading():
    known = {page.name: anchors(page) for page in PAGES}
    missing = set()
    for source in [*ROOT.glob("rigcheck/**/*.py"), *ROOT.glob("tests/**/*.py"), *PAGES, ROOT / "DEVELOPERS.md"]:
        for page, anchor in CITED.findall(source.read_text(encoding="utf-8")):
            if source != Path(__file__) and (page not in known or (anchor and anchor not in known[page])):
                missing.add(f"{source.relative_to(ROOT)}: docs/{page}#{anchor}")
    assert not missing, "\n".join(sorted(missing))


def test_no_heading_stands_twice_in_the_method():
    heads = re.findall(r"^#+ +(.+?) *$", (DOCS / "method.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted({head for head in heads if heads.count(head) > 1}) == []


def command_lines() -> list[str]:
    found: list[str] = []
    for page in [*PAGES, ROOT / "README.md"]:
        found += LINE.findall(page.read_text(encoding="utf-8"))
    return sorted(set(found))


@pytest.mark.parametrize("line", command_lines())
def test_command_lines_of_the_pages_run(line, tmp_path, monkeypatch):
    shutil.copytree(ROOT / "cases", tmp_path / "cases")
    monkeypatch.chdir(tmp_path)
    words = shlex.split(line.replace("--samples 2000", "--samples 200"))[1:]  # the line as it is takes half a minute
    code, out, err = call(*words)
    assert code in (0, 1, 3), err
    assert out or "written" in err
    assert "Traceback" not in err
