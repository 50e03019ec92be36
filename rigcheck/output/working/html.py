"""The worked calculation as HTML for a report: equations in MathML, no script, nothing fetched."""

from __future__ import annotations

from rigcheck.output.html_page import paragraph, table, words
from rigcheck.output.working.words import outcome
from rigcheck.wording.plain import PlainView


def working_html(result: PlainView) -> str:
    """The sections of a calculation, without the page around them.

    Args:
        result: Of `working_result`.

    Returns:
        HTML; words are escaped, equations are the MathML of the result.
    """
    text = paragraph(result["how"])
    for number, section in enumerate(result["sections"], start=1):
        text += _section(section, number=number)
    return text


def _section(section: PlainView, *, number: int) -> str:
    heading = f"{number}. {section['part'].capitalize()}: {section['title']}"
    text = f"<h3>{words(heading)}</h3>{paragraph(section['intro'])}"
    if section["steps"] and section["verdict"] != "not_assessed":
        text += paragraph(outcome(section), kind="verdict")
    steps = "".join(f'<li class="keep">{_step(step)}</li>' for step in section["steps"])
    return text + (f'<ol class="working">{steps}</ol>' if steps else "")


def _step(step: PlainView) -> str:
    text = paragraph(step["heading"])
    if step["note"]:
        text += paragraph(step["note"], kind="note")
    if step["table"]:
        found = step["table"]
        text += table(
            found["heads"], rows=found["rows"], caption=found["caption"], numbers=tuple(range(1, len(found["heads"])))
        )
    if step["terms"]:
        lines = (f"{one['symbol']['mathml']} {words(one['meaning'])}: {words(one['value'])}" for one in step["terms"])
        text += f'<ul class="terms">{"".join(f"<li>{line}</li>" for line in lines)}</ul>'
    equations = [*step["derivation"], *(one for one in (step["equation"], step["numbers"]) if one)]
    text += "".join(f'<div class="wide">{one["mathml"]}</div>' for one in equations)
    if step["answer"]:
        text += paragraph(f"= {step['answer']}", kind="answer")
    return text + (paragraph(step["clause"], kind="note") if step["clause"] else "")
