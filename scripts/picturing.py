"""Pictures of the screens on the demo laid around one fixed day, as SVG without fonts from elsewhere."""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from datetime import date
from pathlib import Path

from textual.pilot import Pilot

from caseload.acts import demo
from caseload.acts.desk import Desk
from caseload.screens.app import Caseload
from caseload.store import open_store

TODAY = date(2026, 11, 24)
INTO = Path(__file__).parent.parent / "fixtures" / "pictures"
_FONT_FROM_ELSEWHERE = re.compile(r"@font-face \{.*?\}\s*", re.DOTALL)


async def settled(pilot: Pilot[str]) -> None:
    """Until what is shown no longer changes: the screens read from their own thread."""
    before = ""
    for _ in range(100):
        await pilot.pause(0.05)
        now = pilot.app.export_screenshot()
        if now == before and "ledger" not in now:
            return
        before = now


async def picture(place: str, folder: Path, name: str, size: tuple[int, int], keys: list[str]) -> None:
    """One picture: the app opened, keys pressed, written to `INTO`."""
    app = Caseload(place, "Imogen Vale", TODAY, drafts=folder)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        for key in keys:
            await pilot.press(key)
            await settled(pilot)
        svg = _FONT_FROM_ELSEWHERE.sub("", app.export_screenshot(title="caseload"))
        svg = svg.replace("Fira Code", "DejaVu Sans Mono")
    (INTO / f"{name}.svg").write_text(svg, "utf-8")
    print(INTO / f"{name}.svg")


PICTURES: dict[str, tuple[tuple[int, int], list[str]]] = {
    "week": ((110, 34), ["down"]),
    "person": ((110, 38), ["enter"]),
    "record": ((110, 30), ["r"]),
    "find": ((110, 20), ["slash", *"olafs"]),
    "protocol": ((110, 34), ["o"]),
}


async def main(only: list[str]) -> None:
    INTO.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as made:
        place = str(Path(made) / "demo.db")
        with open_store(place, create=True) as store:
            demo.make(Desk(store, "Imogen Vale", TODAY))
        for name, (size, keys) in PICTURES.items():
            if not only or name in only:
                await picture(place, Path(made), name, size, keys)


if __name__ == "__main__":
    asyncio.run(main(sys.argv[1:]))
