"""Run the command line with ``python -m rigcheck``."""

import sys

from rigcheck.cli import main

if __name__ == "__main__":
    sys.exit(main())
