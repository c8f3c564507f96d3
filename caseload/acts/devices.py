"""A new device, and what becomes of it: ordered, delivered, ended."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from caseload.acts.desk import Desk
from caseload.acts.recorded import Recorded, recorded
from caseload.errors import Changed, Problem, Refused
from caseload.records.columns import columns
from caseload.records.devices import Device
from caseload.rules import checks
from caseload.store import people
from caseload.store.work import Work


def add(desk: Desk, values: Mapping[str, Any]) -> Recorded:
    """Add a device from typed values of its columns. Raises Refused with every problem."""
    device, problems = checks.made(Device, values, desk.today)
    if device is None:
        raise Refused(problems)
    with desk.act("new device") as work:
        if people.device(desk.store, device.device) is not None:
            raise Refused([Problem(f"The reference {device.device[:60]} is used already.", "device")])
        if work.case(device.person) is None:
            raise Refused([Problem(f"There is no person {device.person[:60]}.", "person")])
        warnings = _checked(work, device)
        work.add(device, person=device.person, device=device.device)
        work.touch(device.person, afresh=True)
    return recorded(work, (), warnings)


def edit(desk: Desk, reference: str, version: int, values: Mapping[str, Any], reason: str = "") -> Recorded:
    """Change a device: delivered, ended, a detail; `values`: the columns that change, None for blank.

    Raises Refused, or Changed when `version` is not the one on record.
    """
    on_record = people.device(desk.store, reference)
    if on_record is None:
        raise Refused([f"There is no device {reference[:60]}."])
    before, now = on_record
    wanted = {told.name: getattr(before, told.name) for told in columns(Device)} | dict(values)
    after, problems = checks.made(Device, wanted, desk.today)
    if after is None:
        raise Refused(problems)
    if (after.device, after.person) != (reference, before.person):
        raise Refused([Problem("A device keeps its reference and its person.", "device")])
    if now != version:
        raise Changed(reference, after, before)
    with desk.act("edit device", reason) as work:
        warnings = _checked(work, after)
        work.replace(before, after, version, person=after.person, device=reference)
        work.touch(after.person, afresh=True)
    return recorded(work, (), warnings)


def _checked(work: Work, device: Device) -> list[Problem]:
    found = checks.device(device, work.case(device.person))
    if any(not problem.warning for problem in found):
        raise Refused(problem for problem in found if not problem.warning)
    return found
