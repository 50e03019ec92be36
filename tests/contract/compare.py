"""Hold every output to the frozen one; name each that differs.

python -m tests.contract.compare                # everything; takes minutes
python -m tests.contract.compare check fold     # some commands
"""

import sys

from tests.contract.frozen import SUBJECTS, found, stored


def differences(subjects: tuple[str, ...]) -> list[str]:
    """Answers that are not as they were, that are new, or that are gone."""
    before = {subject: stored(subject) for subject in subjects}
    wrong = []
    for subject, name, value in found(subjects):
        known = before[subject].pop(name, None)
        if known != value:
            wrong.append(f"{subject} {name}: {'differs' if known else 'is new'}")
    return wrong + [f"{subject} {name}: is gone" for subject, rows in before.items() for name in rows]


def main(subjects: tuple[str, ...]) -> int:
    """Print the differences."""
    wrong = differences(subjects)
    print("\n".join(wrong) or "nothing differs")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(tuple(sys.argv[1:]) or SUBJECTS))
