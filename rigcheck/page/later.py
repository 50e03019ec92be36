"""What takes longer than an answer: bed mark, cures, ladders, strip; each under the hash of its numbers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from math import ceil, floor
from typing import Any, get_args

from rigcheck.case.models.case import Case
from rigcheck.case.rig import Rig
from rigcheck.case.schema.kinds import Quantity
from rigcheck.case.tacks import is_tacked
from rigcheck.output.bed_words import bed_paragraph, bed_plain
from rigcheck.output.drawing.grips import KEYS
from rigcheck.output.html_page import paragraph, words
from rigcheck.output.remedies.view import remedies_data, remedy_lines
from rigcheck.page.along import answers_along
from rigcheck.page.answer import Answer, answered
from rigcheck.page.changes import hash_of
from rigcheck.page.folding_play import fold_block
from rigcheck.page.picture import MM, VIEWS
from rigcheck.page.strip import Place, strip_html
from rigcheck.page.taking import button_value
from rigcheck.page.telling import answer_html
from rigcheck.page.typed import BadRequestError, field_of
from rigcheck.page.whole import told_whole
from rigcheck.quantities import System
from rigcheck.quantities.shop import Tape, tape_text
from rigcheck.studies.bed_mark.study import bed_mark
from rigcheck.studies.remedies.record import Remedy
from rigcheck.studies.remedies.study import FEW, remedies
from rigcheck.studies.vary.case import broken, legal_end, with_values
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale
from rigcheck.wording.words import percent

AT_ONCE = 5  # places worked out as one batch; between two batches it is looked whether they are still wanted
EACH_WAY = 12  # places of a ladder above and below where a grip stands
STRIP = "hanger.at"
STRIP_PLACES = 21
_KEPT = 200  # answers that a worker remembers
_NEAR = 1e-3  # of a step of the grid: as near as a bisection comes
_FAR = 1e4  # in: no rig is so large


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What is to be worked out for the numbers on a page.

    Attributes:
        data: The numbers as the reader takes them.
        hash: Their name.
        name: What problems call the file.
        system: Units.
        view: The drawing that is shown.
        frame: What it shows.
        grip: The grip in hand as the page was told of it; None for none.
    """

    data: Mapping[str, Any]
    hash: str
    name: str
    system: System
    view: str = "side"
    frame: Any = None
    grip: Mapping[str, Any] | None = None


@dataclass(slots=True)
class Memory:
    """Answers of earlier jobs: a ladder that moved by a place needs one row and not all."""

    rows: dict[tuple[str, ...], Plain] = field(default_factory=dict)

    def along(self, job: Job, numbers: Sequence[Mapping[str, Any]], *, key: str, like: Answer) -> list[Plain]:
        """Answers to numbers that differ from those of a job in one key, as single questions would be answered."""
        places = [(hash_of(one), job.view, str(job.frame), job.system) for one in numbers]
        new = {place: one for place, one in zip(places, numbers, strict=True) if place not in self.rows}
        answers = answers_along(list(new.values()), key=key, like=like, name=job.name, system=job.system)
        for (place, data), answer in zip(new.items(), answers, strict=True):
            told = told_whole(answer, data=data, view=job.view, frame=job.frame, system=job.system)
            told["use"] = None if answer.told is None else answer.told["highest_utilization"]
            told["stopped"] = answer.told is not None and answer.told["stopped"]
            self.rows[place] = told
        found = [self.rows[place] for place in places]
        while len(self.rows) > _KEPT:
            del self.rows[next(iter(self.rows))]
        return found


def facts(job: Job, *, memory: Memory) -> Iterator[Plain]:
    """Fact after fact, what the page waits for most first; whoever asks may stop asking between any two.

    Args:
        job: What is asked.
        memory: Of the worker.

    Returns:
        Facts, each with its kind and the hash of the numbers it is for.
    """
    answer = answered(job.data, hash=job.hash, name=job.name, system=job.system)
    if answer.found is None:
        return
    yield {"kind": "bed", "hash": job.hash, "text": bed_text(answer, system=job.system)}
    if job.grip is not None:
        yield {"kind": "reach", "hash": job.hash, **reach(answer, grip=job.grip)}
        yield from ladder(job, answer, memory=memory)
    if answer.word == "over":
        yield {"kind": "cures", "hash": job.hash, "html": cures_html(answer, data=job.data)}
    if answer.found.solution.rig.has("fold.to") and not is_tacked(answer.found.solution.rig.case):
        yield {"kind": "fold", "hash": job.hash, **fold_block(answer.found, system=job.system)}
    yield from views(job, answer)
    yield from strip(job, answer, memory=memory)
    if answer.word == "over":
        yield {"kind": "cures", "hash": job.hash, "html": cures_html(answer, data=job.data, most=None)}


def views(job: Job, answer: Answer) -> Iterator[Plain]:
    """The answer with each of the other drawings, so that one of them is there when it is asked for."""
    for view in VIEWS:
        if view != job.view:
            told = told_whole(answer, data=job.data, view=view, frame=None, system=job.system)
            del told["problems"]  # there are none, and what was understood goes on standing at the fields
            if told["view"] == view:
                yield {"kind": "view", "hash": job.hash, "told": told}


def ladder(job: Job, answer: Answer, *, memory: Memory) -> Iterator[Plain]:
    """The full check at places of the grip in hand, the nearest first, as far as there is a case.

    Args:
        job: What is asked.
        answer: The answer to its numbers.
        memory: Of the worker.

    Returns:
        A row for each place, a few of them worked out at once.
    """
    assert job.grip is not None
    key, value, coarse = str(job.grip["key"]), float(job.grip["value"]), float(job.grip["coarse"])
    ends = {1: EACH_WAY, -1: EACH_WAY}
    steps = [0, *(way * number for number in range(1, EACH_WAY + 1) for way in (1, -1))]
    while steps:
        now, steps = steps[:AT_ONCE], steps[AT_ONCE:]
        texts = [tape_text(value + step * coarse, tape=job.grip["tape"]) for step in now]
        numbers = [dict(job.data) if not step else with_text(job.data, key=key, text=text)
                   for step, text in zip(now, texts, strict=True)]  # fmt: skip
        rows = memory.along(job, numbers, key=key, like=answer)
        for step, text, told in zip(now, texts, rows, strict=True):
            way = 1 if step > 0 else -1
            if told["code"] != "ok":
                ends[way] = min(ends[way], abs(step))
            if abs(step) <= ends[way]:
                yield {"kind": "row", "hash": job.hash, "key": key, "step": step, "text": text, "told": told}
        steps = [step for step in steps if abs(step) <= ends[1 if step > 0 else -1]]


def reach(answer: Answer, *, grip: Mapping[str, Any]) -> Plain:
    """How far a grip goes: the limits of its key, cut by the rules between keys, on the tape's grid and inside them.

    Args:
        answer: The answer to the numbers as they are.
        grip: The grip.

    Returns:
        Its key with the least and the most, in inches; None for no limit.
    """
    assert answer.case is not None
    case, key = answer.case, str(grip["key"])
    inside, grid = float(Rig(case).number(key)), 1.0 / MM if grip["tape"] in ("mm", "cm", "m") else 0.125
    kind = field_of(key).kind
    limits = kind.limits if isinstance(kind, Quantity) else (None, None)

    def case_at(value: float) -> Case:
        return with_values(case, {key: value})

    def on_grid(limit: float | None) -> float | None:
        if limit is None:
            return None
        end = legal_end(case_at, inside, end=limit) / grid
        near, inner = round(end) * grid, (ceil(end) if limit < inside else floor(end)) * grid
        return inner if broken(case_at(near), name="reach") or abs(end - round(end)) > _NEAR else near

    return {"key": key, "least": on_grid(limits[0]), "most": on_grid(limits[1])}


def with_text(data: Mapping[str, Any], *, key: str, text: str) -> Plain:
    """The numbers with another text under a key of a plain table, such as `hanger.at`."""
    table, last = key.split(".")
    found = dict(data)
    found[table] = {**deepcopy(found.get(table, {})), last: text}
    return found


def grip_of(data: Any) -> Plain:
    """A grip as the page sends it back.

    Args:
        data: Parsed JSON.

    Raises:
        BadRequestError: It is none that the page was told of.
    """
    if not isinstance(data, dict) or data.get("key") not in KEYS or data.get("tape") not in get_args(Tape):
        raise BadRequestError("no such grip")
    numbers = {name: data.get(name) for name in ("value", "coarse")}
    if not all(isinstance(one, int | float) and abs(one) < _FAR for one in numbers.values()):
        raise BadRequestError("no such grip")
    return {"key": data["key"], "tape": data["tape"], **numbers}


def strip(job: Job, answer: Answer, *, memory: Memory) -> Iterator[Plain]:
    """The highest use with the hanger at places along the box, in shop inches, each from a whole check."""
    assert answer.found is not None
    rig = answer.found.solution.rig
    length, now = float(rig.number("box.length")), float(rig.number(STRIP))
    step = max(round(length / STRIP_PLACES), 1)
    tape = (job.grip or {}).get("tape", "ft in")
    every = [tape_text(float(number * step), tape=tape) for number in range(2, int(length / step) + 1)]
    places: list[Place] = []
    for begun in range(0, len(every), AT_ONCE):
        texts = every[begun : begun + AT_ONCE]
        numbers = [with_text(job.data, key=STRIP, text=text) for text in texts]
        for place, told in enumerate(memory.along(job, numbers, key=STRIP, like=answer), begun + 2):
            if told["code"] == "ok":
                text = every[place - 2]
                places.append(Place(place * step / length, text, told["use"], told["word"], bool(told["stopped"])))
        html = strip_html(places, now=now / length, whole=begun + AT_ONCE >= len(every))
        yield {"kind": "strip", "hash": job.hash, "html": html}


def bed_text(answer: Answer, *, system: System) -> str:
    """The bed mark in words."""
    assert answer.found is not None
    return bed_paragraph(bed_plain(bed_mark(answer.found.solution.rig, found=answer.found), scale=Scale(system)))


def cures_html(answer: Answer, *, data: Mapping[str, Any], most: int | None = FEW) -> str:
    """What would cure a rig that is over, each with what it comes to and a button that tries it; nothing else."""
    if answer.found is None or answer.told is None or answer.word != "over":
        return ""
    found = remedies(answer.found.solution.rig, found=answer.found, most=most)
    lines = remedy_lines(remedies_data(found), most=None)
    told = "" if len(lines) == len(found) else paragraph(lines[0])
    now = "stopped" if answer.told["stopped"] else percent(answer.told["highest_utilization"])
    rows = zip(found, lines[len(lines) - len(found) :], strict=True)
    body = "".join(_cure(one, line, now=now, data=data) for one, line in rows)
    more = "" if most is None else paragraph("More is being tried.", kind="note")
    return f'<h3>Fix this</h3>{told}<ul class="cures">{body}</ul>{more}'


def _cure(remedy: Remedy, line: str, *, now: str, data: Mapping[str, Any]) -> str:
    """One remedy: what it is, before and after, and its button."""
    then = "still stopped" if remedy.stops else percent(remedy.utilization)
    value = button_value(remedy, data=data) if remedy.counted == "check" else ""
    press = f'<button class="small" name="do" value="{words(value)}">Try it</button>' if value else ""
    verdict = "cures" if remedy.cures else "does not cure alone"
    return f"<li><b>{now} to {then}</b>, {verdict}. {words(line)} {press}</li>"


def facts_at_once(answer: Answer, told: Plain, *, data: Mapping[str, Any], system: System) -> None:
    """Put bed mark and cures into an answer."""
    told["answer"] = answer_html(answer, bed=bed_text(answer, system=system))
    told["why"] = told["why"].replace(
        '<div id="cures"></div>', f'<div id="cures">{cures_html(answer, data=data)}</div>'
    )
