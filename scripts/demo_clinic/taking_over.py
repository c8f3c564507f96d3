"""The list of a clinic that has worked on paper: people and devices as they stand on the day of taking over."""

from __future__ import annotations

import csv
import random
from datetime import date, timedelta
from pathlib import Path

from demo_clinic.names import FIRST_CLINIC, name
from demo_clinic.tale import DESIGNS, DIAGNOSES, Row

DAY = date(2026, 11, 23)
"""A Monday: the first day with the list."""


def make(folder: Path, size: int, seed: int) -> None:
    """Write people.csv, devices.csv and trajectories.csv, with the columns such a list has."""
    people: list[Row] = []
    devices: list[Row] = []
    headings: list[Row] = []
    for n in range(size):
        rng = random.Random(f"taking over {seed} {n}")
        people.append(_person(n, rng))
        for side in rng.choice((("left",), ("right",), ("left",), ("right",), ("left", "right"))):
            device = _device(people[-1], side, rng)
            devices.append(device)
            if rng.random() < 0.9:
                heading = rng.choice(("stable", "stable", "stable", "stable", "improving", "declining"))
                headings.append({"device": device["device"], "on": DAY.isoformat(), "trajectory": heading})
    folder.mkdir(parents=True, exist_ok=True)
    for sheet, rows in (("people", people), ("devices", devices), ("trajectories", headings)):
        with (folder / f"{sheet}.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, list(rows[0]))
            writer.writeheader()
            writer.writerows(rows)


def _person(n: int, rng: random.Random) -> Row:
    family, given = name(1000 + n, rng)
    at = n % 2
    return {
        "person": f"T{n + 1:03d}",
        "family_name": family,
        "given_name": given,
        "born": _ago(rng.choice((4, 9, 13, *range(25, 88))) * 365 + rng.randint(0, 364)),
        "phone": f"555 {rng.randint(100, 199):04d}",
        "site": FIRST_CLINIC.sites[at],
        "clinician": FIRST_CLINIC.therapists[at],
        "sensation": rng.choice(("intact", "intact", "intact", "reduced", "absent", "")),
        "foot_risk": rng.choice(("0", "0", "0", "", "", "1", "2", "3")),
    }


def _device(person: Row, side: str, rng: random.Random) -> Row:
    """Half of the reviews are on the list; some of those are long ago, as on any list."""
    orthosis = rng.choice(("AFO", "AFO", "AFO", "AFO", "FO", "KAFO"))
    design, material = rng.choice(DESIGNS[orthosis])
    delivered = rng.randint(90, 1000)
    reviewed = rng.random() < 0.5
    return {
        "device": f"{person['person']}-{side[0].upper()}",
        "person": person["person"],
        "side": side,
        "orthosis": orthosis,
        "design": design,
        "material": material,
        "diagnosis": rng.choice(DIAGNOSES),
        "delivered": _ago(delivered),
        "taken_over": DAY.isoformat(),
        "last_review": _ago(min(rng.choice((40, 90, 130, 170, 260)) - rng.randint(0, 30), delivered))
        if reviewed
        else "",
    }


def _ago(days: int) -> str:
    return (DAY - timedelta(days=days)).isoformat()
