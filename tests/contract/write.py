"""Freeze the outputs as they are now; only after a change of an output that was meant.

    python -m tests.contract.write                # everything
    python -m tests.contract.write check fold     # some commands

The commands are those of the program that read a case, `plain` for those that read none, `arrays` for random rigs.
"""

import sys

from tests.contract.frozen import SUBJECTS, found, store, stored


def main(subjects: tuple[str, ...]) -> int:
    """Write the hashes of some subjects, and say how many of each are new."""
    hashes: dict[str, dict[str, str]] = {subject: {} for subject in subjects}
    for subject, name, value in found(subjects):
        hashes[subject][name] = value
    for subject, rows in hashes.items():
        before = stored(subject)
        moved = sum(before.get(name) != value for name, value in rows.items())
        print(f"{subject}: {len(rows)} answers, {moved} of them new or changed")
        store(subject, hashes=rows)
    return 0


if __name__ == "__main__":
    sys.exit(main(tuple(sys.argv[1:]) or SUBJECTS))
