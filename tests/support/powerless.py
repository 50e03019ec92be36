"""Run a piece of a test as somebody whom permissions bind; root may read and write everything."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

NOBODY = 65534


@contextmanager
def powerless() -> Iterator[Path]:
    """Give up what root may do, for a while.

    Yields:
        A folder that belongs to whom the process now acts for.
    """
    folder = Path(tempfile.mkdtemp(prefix="rigcheck-"))
    root = os.geteuid() == 0
    if root:
        os.chown(folder, NOBODY, -1)
        os.seteuid(NOBODY)
    try:
        yield folder
    finally:
        if root:
            os.seteuid(0)
        shutil.rmtree(folder)
