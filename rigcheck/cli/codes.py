"""Exit codes, which are a contract: a crash can never read as a finding, and a gap never as a pass."""

NOTHING_OVER = 0
SOMETHING_OVER = 1
UNUSABLE_INPUT = 2
INCOMPLETE = 3
OUR_BUG = 70
INTERRUPTED = 130

_GRAVEST = (UNUSABLE_INPUT, SOMETHING_OVER, INCOMPLETE, NOTHING_OVER)


def code_of(verdict: str) -> int:
    """Exit code of the verdict on a rig."""
    return {"over": SOMETHING_OVER, "incomplete": INCOMPLETE}.get(verdict, NOTHING_OVER)


def code_for(*, over: bool, complete: bool) -> int:
    """Exit code of an answer that is no verdict on the rig as it stands."""
    if over:
        return SOMETHING_OVER
    return NOTHING_OVER if complete else INCOMPLETE


def gravest(codes: list[int]) -> int:
    """Of several files the gravest: unusable, over, incomplete, then nothing over."""
    return min(codes, key=_GRAVEST.index)
