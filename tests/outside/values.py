"""Values that we did not produce, declared as data, and the one function that holds our results to them.

A new topic takes five steps.

1. Write ``tests/outside/data/<topic>.toml``: a ``title``, then one ``[[check]]`` per value with ``id``, ``what``,
   ``printed`` (text, digits exactly as printed), ``unit``, ``source``, ``clause``, ``known`` ("seen" or "memory").
   ``source``, ``clause`` and ``known`` at the top of the file stand for every row that has none. A value of
   ``worked_examples.toml`` is named by ``example`` and ``value`` instead (and ``index`` in a list); its number, source,
   clause and tolerance come from there.
2. Write ``tests/outside/test_<topic>.py``: plain functions without arguments or marks that call ``check(id, result)``.
3. The tolerance is half of the last printed digit. A wider one is ``tolerance`` (in the unit) or ``tolerance_rel``,
   and then ``reason`` says why.
4. Rewrite the page: ``python -m tests.outside.verification``.
5. Commit the three files together; a test fails while they disagree.
"""

import tomllib
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

DATA = Path(__file__).with_name("data")
EXAMPLES = "worked_examples"


@dataclass(frozen=True, slots=True)
class Declared:
    """One value that we did not produce.

    Attributes:
        id: Name, unique over all topics.
        topic: Title of the data file.
        what: What it is the value of.
        printed: As printed.
        unit: Its unit.
        tolerance: Largest difference allowed, in the unit.
        reason: Why the tolerance is wider than half of the last printed digit; else empty.
        source: Document.
        clause: Place in it.
        known: "seen" or "memory".
    """

    id: str
    topic: str
    what: str
    printed: str
    unit: str
    tolerance: float
    reason: str
    source: str
    clause: str
    known: str

    @property
    def number(self) -> float:
        """The printed value as a number."""
        return float(self.printed)

    @property
    def decimals(self) -> int:
        """Places after the point in the printed value."""
        return decimals(self.printed)


results: dict[str, float] = {}
"""What `check` was last given, by id; the page is written from it."""


def decimals(printed: str) -> int:
    """Return the places after the decimal point of a printed number; negative when it ends in an exponent."""
    return -int(Decimal(printed).as_tuple().exponent)


def check(name: str, computed: Any) -> None:
    """Hold one result of ours to the declared value.

    Args:
        name: Id of a declared value.
        computed: Our result, a number or an array of one.
    """
    declared = declarations()[name]
    number = float(computed)
    results[name] = number
    allowed = declared.tolerance * (1.0 + 1e-9) + 1e-12 * abs(declared.number)
    if not abs(number - declared.number) <= allowed:
        raise AssertionError(
            f"{name}: {declared.what}: printed {declared.printed} {declared.unit}, ours {number:.8g}, "
            f"allowed difference {declared.tolerance:.3g} ({declared.source}, {declared.clause})"
        )


def inputs(example: str) -> dict[str, Any]:
    """Return the inputs of a worked example.

    Args:
        example: Its id in worked_examples.toml.
    """
    return dict(_examples()[example]["inputs"])


@cache
def declarations() -> dict[str, Declared]:
    """Return every declared value by id, in the order of the files."""
    found: dict[str, Declared] = {}
    for path in sorted(DATA.glob("*.toml")):
        data = tomllib.loads(path.read_text(encoding="utf-8"))
        for row in data.get("check", []):
            declared = _declared(row, data)
            if declared.id in found:
                raise ValueError(f"{path.name}: {declared.id} is declared twice")
            found[declared.id] = declared
    return found


@cache
def _examples() -> dict[str, dict[str, Any]]:
    text = (DATA / f"{EXAMPLES}.toml").read_text(encoding="utf-8")
    return {example["id"]: example for example in tomllib.loads(text)["example"]}


def _declared(row: dict[str, Any], data: dict[str, Any]) -> Declared:
    origin: dict[str, Any] = data
    if "example" in row:
        origin = _examples()[row["example"]]
        value = origin["expected"][row["value"]]
        printed = f"{value[row['index']] if 'index' in row else value:.10g}"
        relative = row.get("tolerance_rel", origin["tolerance_rel"])
        reason = row.get("reason", "worked by hand from rounded steps")
    else:
        printed, relative, reason = str(row["printed"]), row.get("tolerance_rel"), row.get("reason", "")
    half_digit = 0.5 * 10.0 ** -decimals(printed)
    tolerance = half_digit
    if "tolerance" in row:
        tolerance = row["tolerance"]
    elif relative is not None:
        tolerance = relative * abs(float(printed))
    if tolerance > half_digit * (1.0 + 1e-9) and not reason:
        raise ValueError(f"{row['id']}: a tolerance wider than half of the last printed digit needs a reason")
    return Declared(
        id=row["id"],
        topic=data["title"],
        what=row["what"],
        printed=printed,
        unit=row["unit"],
        tolerance=tolerance,
        reason=reason if tolerance > half_digit * (1.0 + 1e-9) else "",
        **{key: row.get(key, origin.get(key, "")) for key in ("source", "clause", "known")},
    )
