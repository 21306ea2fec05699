"""``python -m platekit`` does what ``platekit`` does."""

import sys

from platekit.cli import main

if __name__ == "__main__":
    sys.exit(main())
