"""`python -m nookwright` opens the same door as the command `nookwright`."""

from __future__ import annotations

import sys

from nookwright.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
