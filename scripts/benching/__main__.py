"""Parse what is to be measured, measure it, print the table."""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from benching.at_rest import loading, rebuild, recording, week
from benching.caseloads import Caseloads
from benching.on_screen import first_paint, paging
from benching.ratio import Ratio, table

PARTS: dict[str, Callable[[Caseloads], Iterator[Ratio]]] = {
    "rebuild": rebuild,
    "recording": recording,
    "week": week,
    "loading": loading,
    "paint": first_paint,
    "paging": paging,
}


def main() -> int:
    """0 when every goal is met, 1 when one is missed."""
    parser = argparse.ArgumentParser(
        prog="scripts/bench",
        description="Measures speed as ratios, each side in the same run, and prints them beside their goals.",
        epilog="Example: scripts/bench recording week --size 2000",
    )
    parser.add_argument(
        "parts", nargs="*", metavar="PART", help=f"what to measure: {', '.join(PARTS)}; all unless said"
    )
    parser.add_argument(
        "--size", type=int, default=10_000, metavar="N", help="people in the caseload (default: 10,000)"
    )
    asked = parser.parse_args()
    if unknown := [part for part in asked.parts if part not in PARTS]:
        parser.error(f"there is no part {unknown[0]}; there are {', '.join(PARTS)}")
    if asked.size < 100:
        parser.error("--size must be at least 100")
    found: list[Ratio] = []
    with tempfile.TemporaryDirectory(prefix="caseload-bench-") as folder:
        caseloads = Caseloads(Path(folder), asked.size)
        for part in asked.parts or PARTS:
            print(f"measuring {part} ...", file=sys.stderr, flush=True)
            for ratio in PARTS[part](caseloads):
                found.append(ratio)
                print(f"  {ratio.what}: {ratio.value:.2f}", file=sys.stderr, flush=True)
    print(table(found))
    return 0 if all(each.met for each in found) else 1


if __name__ == "__main__":
    sys.exit(main())
