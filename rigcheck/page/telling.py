"""The answer as HTML: the word, what governs, what is not assessed, rows nearest their limit, findings, defaults."""

from __future__ import annotations

from collections.abc import Sequence

from rigcheck.output.html_page import items, paragraph, words
from rigcheck.page.answer import Answer
from rigcheck.page.asked_first import NEEDED, label_of
from rigcheck.page.leading import anchor_of
from rigcheck.wording.plain import PlainView
from rigcheck.wording.words import case_word, number, percent, variant_words

_SAID = '<div class="said" tabindex="0">'  # on a phone it is scrolled, by keys too
WAITING = "being worked out"
_BAR = 100.0  # units of a bar, its limit at four fifths
_LIMIT = 80.0


def answer_html(answer: Answer, *, bed: str = "", cures: Sequence[str] | None = None, waits: bool = True) -> str:
    """The word and what it rests on.

    Args:
        answer: The answer.
        bed: The bed mark in words, where it is there.
        cures: What would cure it, where that is there.
        waits: Whether somebody works out what is not there.
    """
    word = answer.word
    kind = word.replace(" ", "-")
    if answer.told is None:
        rows = "".join(f"<li>{_linked(one.key)}{words(one.sentence)}</li>" for one in answer.problems[:6])
        told = f'<ul class="problems">{rows}</ul>'
        more = len(answer.problems) - 6
        rest = paragraph(f"and {more} more, each at its field") if more > 0 else ""
        lead = f"{_needed(answer.needed)}." if answer.needed else "What stands on the page cannot be worked out yet."
        links = ", ".join(f'<a href="#k-{words(path)}">{words(label_of(path))}</a>' for path in answer.needed)
        asked = f'<p class="needed">{links}</p>' if links else ""
        return (
            f'<p class="word {kind}" id="word">{word.upper()}</p>{_SAID}<p class="lead">{lead}</p>'
            f"{asked}{told if answer.problems else ''}{rest}</div>"
        )
    _, _, rest = str(answer.told["headline"]).partition(": ")
    later = bed or (f"Bed mark: {WAITING}." if waits else "Bed mark: press Work it out.")
    missing = answer.told["missing"]
    count = len(missing)
    short = f'<p class="missing"><a href="#missing">{count} part{"s" if count > 1 else ""} not assessed</a></p>'
    return (
        f'<p class="word {kind}" id="word">{word.upper()}</p>{_SAID}<p class="lead">{words(rest)}</p>'
        f'<p class="bed" id="bed">{words(later)}</p>{short if missing else ""}</div>'
    )


def status_text(answer: Answer) -> str:
    """What is read aloud: the word and the sentence."""
    if answer.told is None:
        if answer.needed:
            return f"No answer yet. {_needed(answer.needed)}."
        first = answer.problems[0]
        return f"No answer. {_problem(first.key, first.sentence)}"
    return str(answer.told["headline"])


def _needed(paths: Sequence[str]) -> str:
    return f"{len(paths)} of {len(NEEDED)} things that every answer needs are still to be said"


def _linked(key: str) -> str:
    return f'<a href="#k-{words(key)}">{words(label_of(key))}</a>: ' if key else ""


def _problem(key: str, sentence: str) -> str:
    return f"{key}: {sentence}" if key else sentence


def why_html(answer: Answer, *, data: PlainView, loads: Sequence[tuple[str, str]] = (), cures: str = "") -> str:
    """What governs, loads, rows, findings, defaults.

    Args:
        answer: The answer.
        data: The numbers that it is for.
        loads: Names and values.
        cures: What would cure it, as HTML.
    """
    if answer.told is None:
        return '<p class="note">Nothing is shown here until the numbers can be read.</p>'
    told = answer.told
    findings = list(dict.fromkeys(f"{one['text']}" for one in told["findings"]))
    stops = {one["text"] for one in told["findings"] if one["stops"]}
    said = [f"Stops the rig: {text}" if text in stops else text for text in findings]
    taken = [f"{one['key']}: {one['value']} ({one['source']})" for one in told["assumptions"]]
    pairs = "".join(f"<div><dt>{words(name)}</dt><dd>{words(text)}</dd></div>" for name, text in loads)
    return (
        f'{"".join(paragraph(text) for text in told["why"])}<div id="cures">{cures}</div>'
        f"{_missing(told['missing'], data=data)}"
        f'<h3>Loads</h3><dl>{pairs}</dl><h3>Nearest their limit</h3><div class="bars">{_bars(told)}</div>'
        f"{_folded('Findings', said)}{_folded('Defaults taken', taken)}"
    )


def _missing(found: Sequence[PlainView], *, data: PlainView) -> str:
    """What nobody could assess, the most decisive first, each leading to where it is described."""
    if not found:
        return ""
    rows = ""
    for one in found:
        anchor = anchor_of(one["id"], data=data)
        leads = f' <a href="#{words(anchor)}">describe it</a>' if anchor else ""
        rows += f"<li>{words(one['text'])}{leads}</li>"
    return f'<h3 id="missing">Not assessed, the most decisive first</h3><ol class="missing">{rows}</ol>'


def _folded(heading: str, texts: Sequence[str]) -> str:
    if not texts:
        return ""
    return f"<details><summary>{len(texts)} {words(heading.lower())}</summary>{items(texts)}</details>"


def _bars(told: PlainView) -> str:
    length = told["units"]["length"]
    return "".join(_bar(row, length=length) for row in told["checks"])


def _bar(row: PlainView, *, length: str) -> str:
    use = row["utilization"]
    share = _BAR if use is None else min(_LIMIT * use, _BAR)
    demand = number(row["demand"], unit=row["unit"], rounding="up")
    capacity = number(row["capacity"], unit=row["unit"], rounding="down")
    more = variant_words(row["variant"], unit=length, short=True)
    verdict = words(row["verdict"].replace("_", " "))
    return (
        f'<div class="bar {words(row["verdict"])}"><p><b>{percent(use)}</b> {words(row["part"])}, '
        f"{words(row['mode'])}</p>"
        f'<svg viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true"><rect class="rail" width="100" '
        f'height="4"/><rect class="use" width="{share:.1f}" height="4"/><path d="M{_LIMIT:g} 0v4"/></svg>'
        f"<p>{verdict}; {words(demand)} of {words(capacity)}, {words(case_word(row))}"
        f"{words(f' ({more})' if more else '')}</p></div>"
    )
