"""Ratios of the screens, in a pseudo-terminal: the first paint of Week, and paging through a long list."""

from __future__ import annotations

import os
import statistics
import sys
from collections.abc import Iterator
from pathlib import Path

from benching.caseloads import Caseloads
from benching.ratio import Ratio
from benching.terminal import Terminal

_LIKE_A_USERS = "import sys; sys.modules['psycopg'] = None; "
"""peewee imports the PostgreSQL driver wherever it is installed; a user without a server has none."""
_SMALLEST = (
    "from textual.app import App\n"
    "from textual.widgets import Static\n"
    "class Smallest(App):\n"
    "    def compose(self):\n"
    "        yield Static('smallest')\n"
    "Smallest().run()\n"
)
_FEW = 200
PAGE_DOWN, HOME = b"\x1b[6~", b"\x1b[1~"


def _environment(caseloads: Caseloads) -> dict[str, str]:
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
    home = str(caseloads.folder)
    top = str(Path(__file__).parents[2])
    return kept | {"TERM": "xterm-256color", "COLORTERM": "truecolor", "XDG_DATA_HOME": home, "PYTHONPATH": top}


def _smallest(caseloads: Caseloads) -> Terminal:
    return Terminal([sys.executable, "-c", _LIKE_A_USERS + "\n" + _SMALLEST], _environment(caseloads))


def _caseload(caseloads: Caseloads, size: int, who: str) -> Terminal:
    asked = ["--db", str(caseloads.database(size)), "--on", caseloads.today.isoformat(), "--as", who]
    run = "from caseload.cli.main import main; sys.exit(main(sys.argv[1:]))"
    return Terminal([sys.executable, "-c", _LIKE_A_USERS + run, *asked], _environment(caseloads))


def first_paint(caseloads: Caseloads, times: int = 9) -> Iterator[Ratio]:
    """From the start of the process to the first frame, and to the list itself."""
    caseloads.database(caseloads.size)
    paints, lists, smallest = [], [], []
    for _ in range(times):
        with _smallest(caseloads) as terminal:
            smallest.append(terminal.wait_for("smallest"))
        with _caseload(caseloads, caseloads.size, "Imogen Vale") as terminal:
            paints.append(terminal.wait_for("Opening the caseload"))
            lists.append(terminal.wait_for(r"Imogen Vale.*\d+ people"))
    small = statistics.median(smallest)
    note = f"{times} starts each, by turns"
    yield Ratio(
        "first paint of Week over the smallest Textual app", statistics.median(paints), small, 1.8, note
    )
    yield Ratio("the list itself on screen over the same", statistics.median(lists), small, None)


def paging(caseloads: Caseloads, times: int = 60) -> Iterator[Ratio]:
    """PageDown through everyone there is, on the screen that finds a person."""

    def pages(size: int) -> tuple[float, float]:
        with _caseload(caseloads, size, "bench") as terminal:
            terminal.wait_for(r"Everyone.*\d people")
            terminal.settle()
            terminal.press(b"/", 0.3)
            took: list[float] = []
            used, per_list = 0.0, max(1, size // 36 - 2)
            while len(took) < times:
                before = terminal.cpu()
                some = [terminal.press(PAGE_DOWN) for _ in range(min(per_list, times - len(took)))]
                used += terminal.cpu() - before
                took += some
                if len(took) < times:
                    terminal.press(b"\x1b", 0.3)
                    terminal.press(b"/", 0.3)
            return statistics.median(took), used / len(took)

    for size in (caseloads.size, _FEW):
        caseloads.database(size)
    (a, a_used), (b, b_used) = pages(caseloads.size), pages(_FEW)
    what = f"PageDown, {caseloads.size:,} lines over {_FEW}"
    yield Ratio(what, a, b, 2, f"median of {times}, key to the last of what it drew")
    yield Ratio("the same in processor time", a_used, b_used, None)
