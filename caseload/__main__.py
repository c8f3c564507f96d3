"""`python -m caseload` is the command `caseload`."""

import sys

from caseload.cli.main import main

sys.exit(main())
