"""The proof load as one plain dict, the contract `rigcheck.proof/2`."""

from __future__ import annotations

from rigcheck.assessment.verdict import rig_word
from rigcheck.output.check.result import Source
from rigcheck.output.proof.words import LOOK_AT, WHOM_TO_ASK, proof_headline, proof_why, recipe
from rigcheck.output.rig_words import beside
from rigcheck.quantities import System
from rigcheck.studies.proof.load import LINK_BREAK, LINK_PROOF
from rigcheck.studies.proof.study import FROM_TAIL, KEEP_OUT, TARGET, Proof, Step
from rigcheck.wording.cautions import CAUTIONS
from rigcheck.wording.plain import Plain
from rigcheck.wording.scale import Scale, ratio

SCHEMA = "rigcheck.proof/2"
PROOF_CAUTIONS = (
    "A weak rig fails under its proof load: people out of its reach, timber blocking close under the box.",
    "A passed proof load shows what it loaded, once; not fatigue, corrosion or road.",
)
ASSUMPTIONS = (
    "target: 125 % of the largest static line tension with both lines alike, 29 CFR 1926.251(a)(4) (source checked)",
    f"rated hardware may see {LINK_PROOF:g} times its working load limit and {LINK_BREAK:g} of its breaking"
    " strength; steel may see its yield (lifting basis, its design factor 3.0 taken off); no dynamic factor",
    "clear water, level pool, clean box with its wet mats, plant level, both lines alike",
    f"bags on planks at the top of the sides, middle of the pile {FROM_TAIL:g} in from the tail or where asked;"
    " nearer the hanger where the overhang would not hold",
    "four steps, 10 minutes, keep-out of box length plus 3 ft: common practice, no source",
)


def proof_result(study: Proof, *, source: Source | None = None, system: System = "us") -> Plain:
    """Everything the recipe says of one rig, ready for JSON.

    Args:
        study: The recipe.
        source: The file the case came from.
        system: Units of every number in it.

    Returns:
        The result; no NaN and no infinity in it.
    """
    scale, rig = Scale(system), study.assessment.solution.rig

    def force(value: float) -> float | None:
        return scale.one(value, dimension="force")

    def length(value: float) -> float | None:
        return scale.one(value, dimension="length")

    over = bool(study.assessment.over)
    found: Plain = {
        "schema": SCHEMA,
        "title": rig.case.title,
        "input": None if source is None else {"file": source.file, "sha256": source.sha256},
        **beside(study.assessment),
        "alone": {"verdict": _alone(study)},
        "units": scale.units(),
        "state": study.state,
        "factor": TARGET,
        "working": force(study.working),
        "even": force(study.even),
        "target": force(study.target),
        "empty": force(study.empty),
        "water_tension": force(study.water_tension),
        "water_share_of_target": study.water_tension / study.target,
        "water_share_of_working": study.water_tension / study.working,
        "needs_bags": study.steps[-1].bags > 0.0,
        "brim": length(study.brim),
        "bag": force(study.bag),
        "bags_at": length(study.bags_at),
        "keep_out": length(float(rig.number("box.length")) + KEEP_OUT),
        "hold_minutes": 10,
        "steps": [_step(one, scale=scale) for one in study.steps],
        "reachable": study.reachable,
        "reached": study.reached,
        "reached_tension": force(study.reached_tension),
        "limit": study.limit or None,
        "check": {
            "over": over,
            "stopped": bool(study.assessment.stopped),
            "utilization": ratio(study.assessment.utilization),
        },
        "whom_to_ask": list(WHOM_TO_ASK),
        "look_at": list(LOOK_AT),
        "assumptions": list(ASSUMPTIONS),
        "cautions": [*PROOF_CAUTIONS, *CAUTIONS],
    }
    found["headline"] = proof_headline(found)
    found["why"] = proof_why(found)
    found["recipe"] = recipe(found)
    return found


def _alone(study: Proof) -> str:
    """What the proof load comes to by itself; it needs a rig that is whole and not over."""
    tight_above = float(study.assessment.solution.rig.number("factors.tight_above"))
    return rig_word(
        over=not study.reachable or bool(study.assessment.over),
        complete=not study.assessment.not_assessed,
        tight=max(one.utilization for one in study.steps) > tight_above,
    )


def _step(one: Step, *, scale: Scale) -> Plain:
    return {
        "share": one.share,
        "depth": scale.one(one.depth, dimension="length"),
        "bags": scale.one(one.bags, dimension="force"),
        "line": scale.one(one.tension, dimension="force"),
        "tail_fall": scale.one(one.tail_deflection, dimension="length"),
        "utilization": ratio(one.utilization),
        "part": one.part,
    }
