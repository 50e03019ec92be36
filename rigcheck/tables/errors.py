"""Errors of the tables: a name or size that the published tables do not hold."""

from collections.abc import Iterable


class TableError(LookupError):
    """A table, column, grade or size that is not there; carries what is.

    Attributes:
        given: What was asked for.
        accepted: What the table holds.
        nearest: Accepted entries that look like `given`.
        reason: What is wrong, without what is accepted.
    """

    def __init__(self, what: str, given: str, accepted: Iterable[str], *, nearest: Iterable[str] | None = None) -> None:
        self.given = given
        self.accepted = tuple(accepted)
        self.nearest = _look_alikes(given, self.accepted) if nearest is None else tuple(nearest)
        guess = f"; nearest: {', '.join(self.nearest)}" if self.nearest else ""
        self.reason = f'no {what} "{given}"{guess}'
        super().__init__(f"{self.reason}; listed: {', '.join(self.accepted)}")


class ShapeError(TableError):
    """A steel shape name that is neither listed nor of an accepted form.

    Attributes:
        given: What was asked for.
        accepted: The accepted forms, one example each.
        nearest: Listed names that look like `given`.
        why: What is wrong with it, when more is known than that it is unknown.
    """

    def __init__(self, given: str, forms: Iterable[str], *, nearest: Iterable[str] = (), why: str = "") -> None:
        self.given = given
        self.accepted = tuple(forms)
        self.nearest = tuple(nearest)
        self.why = why
        self.reason = reason = why or "not a listed shape"
        guess = f"; nearest: {', '.join(self.nearest)}" if self.nearest else ""
        LookupError.__init__(self, f'"{given}": {reason}{guess}; write for example {", ".join(self.accepted)}')


def _look_alikes(given: str, listed: tuple[str, ...]) -> tuple[str, ...]:
    from difflib import get_close_matches  # only what is not found pays for it

    return tuple(get_close_matches(given, listed, n=3))
