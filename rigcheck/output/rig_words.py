"""The verdict on the whole rig as every command gives it: keys of its JSON, one sentence, and the exit that follows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigcheck.analysis.missing import Missing
from rigcheck.assessment.assess import Assessment, assess
from rigcheck.assessment.verdict import verdict
from rigcheck.case.errors import CaseError, Problem
from rigcheck.case.rig import Rig
from rigcheck.output.screen import Page
from rigcheck.wording.plain import Plain


def missing_words(count: int) -> str:
    """How many parts of the load path nobody could assess."""
    return f"{count} part{'' if count == 1 else 's'} of the load path not assessed"


def missing_plain(found: Sequence[Missing]) -> list[Plain]:
    """What is not assessed, for programs: the id, the room of the rig and the sentence of each, in their order."""
    return [{"id": one.id, "group": one.group, "text": str(one)} for one in found]


def rig_plain(found: Assessment) -> Plain:
    """The verdict on one rig: the keys that the JSON of every command has.

    Args:
        found: Its assessment, no batch.

    Returns:
        Verdict, whether something is tight, whether all is assessed, and what is not.
    """
    said = verdict(found)
    return {
        "verdict": said.word,
        "tight": said.tight,
        "complete": said.complete,
        "not_assessed": [str(one) for one in found.not_assessed],
        "missing": missing_plain(found.not_assessed),
    }


def beside(found: Assessment) -> Plain:
    """The same with its sentence under `rig`, for a command that answers another question than `check`.

    Args:
        found: The assessment of the rig as it stands, no batch.

    Returns:
        The keys of `rig_plain`, and the sentence.
    """
    told = rig_plain(found)
    told["rig"] = rig_sentence(told["verdict"], tight=told["tight"], missing=len(found.not_assessed))
    return told


def checked(rig: Rig, *, name: str) -> Assessment:
    """The assessment of a rig, for whatever goes on from its checks.

    Args:
        rig: The rig as it stands.
        name: What problems call its file.

    Raises:
        CaseError: Not one part of it is described so far that it could be checked.
    """
    found = assess(rig)
    if not found.checked:
        why = "no part of it can be checked yet; `rigcheck check` lists what to describe"
        raise CaseError([Problem(name, "", why)])
    return found


def rig_sentence(word: str, *, tight: bool, missing: int) -> str:
    """The verdict on the whole rig, beside the answer to a question on a part of it."""
    lead = f"The whole rig: {word.upper()}"
    if word == "over":
        also = f", and {missing_words(missing)}" if missing else ""
        return f"{lead}: something is over{also}; `rigcheck check` says what."
    if word == "incomplete":
        more = "; something is tight" if tight else ""
        return f"{lead}: nothing checked is over, {missing_words(missing)}{more}."
    return f"{lead}: nothing is over."


def file_words(found: Mapping[str, Any]) -> list[str]:
    """File and hash of what was read; nothing for what was not read from a file."""
    source = found["input"]
    return [f"{source['file']}, sha256 {source['sha256'][:16]}"] if source else []


def identity_words(result: Mapping[str, Any]) -> list[str]:
    """File and hash of a result, with its revision and hand where they are given."""
    return [*file_words(result), *(f"{word} {result[word]}" for word in ("revision", "by") if result[word])]


def opening(page: Page, found: Mapping[str, Any], *, more: str = "") -> None:
    """The first lines of a screen: the title, and file and hash with what is to stand behind them."""
    page.line(found["title"], style="head")
    for text in file_words(found):
        page.line(f"{text}{more}")


def study_opening(page: Page, found: Mapping[str, Any]) -> None:
    """The first lines of a study that has a word of its own beside that of the rig, and the sentences that say why."""
    opening(page, found)
    page.line()
    page.line(found["headline"], style=found["alone"]["verdict"])
    page.line(found["rig"], style=found["verdict"])
    page.line()
    for sentence in found["why"]:
        page.line(sentence)


def rig_line(page: Page, found: Mapping[str, Any]) -> None:
    """The verdict on the whole rig on the screen of another question; nothing where the answer was made without it."""
    if "rig" in found:
        page.line(found["rig"], style=found["verdict"])


def answer_style(found: Mapping[str, Any], *, over: bool) -> str:
    """Style of an answer: what is good is not green while parts of the load path are not assessed."""
    if over:
        return "over"
    return "within" if found["complete"] else "incomplete"
