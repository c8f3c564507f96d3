"""Supply, workshop, replacement: the table of rules.md 4.8. 2 March 2026 is a Monday."""

from __future__ import annotations

import pytest

from tests.rules.build import case, device, fact, ledger, person, rows


def status(on, to, **more):
    return fact("change", on, what="status", to=to, **more)


def supply(*facts, **about):
    return ledger(case(*facts, **about), "supply")


def ordered(**values):
    return [device(**{"ordered": "2026-03-02"} | values)]


def test_ordered_promised():
    """Saturday 28 March: Monday 30th; opens 7 d before; grace 5 wd over Easter: Wednesday 8 April."""
    assert supply(devices=ordered(promised="2026-03-28")) == ["03-02 03-23 03-30 04-08 tier 3 owed"]


def test_ordered_else_30_working_days_after():
    """Thirty working days after 2 March, two of them closed for Easter: Wednesday 15 April."""
    assert supply(devices=ordered()) == ["03-02 04-08 04-15 04-22 tier 3 owed"]


def test_done_by_delivery():
    assert supply(devices=ordered(delivered="2026-04-01")) == ["03-02 04-08 04-15 04-22 tier 3 done 04-01"]
    assert supply(devices=ordered(delivered="2026-03-02"))[0].endswith("done 03-02")


def test_not_taken_over():
    assert supply(devices=ordered(taken_over="2026-04-01")) == []


def test_the_end_of_the_device_or_a_discharge_cancels_it():
    assert supply(devices=ordered(ended="2026-03-20"))[0].endswith("cancelled 03-20")
    assert supply(status("2026-03-20", "discharged"), devices=ordered())[0].endswith("cancelled 03-20")
    assert supply(status("2026-03-02", "discharged"), devices=ordered()) == []


CHANGE = fact("reassessment", "2026-03-30", decision="change device")
NOW = device(delivered="2024-01-08")


def changed(*facts, following=None, **values):
    """The row of `change device` on Monday 30 March, with another device ordered on a day."""
    devices = [device(**{"delivered": "2024-01-08"} | values)]
    if following:
        devices.append(device(**{"device": "D2"} | following))
    return [
        row for row in supply(CHANGE, *facts, devices=devices) if row.startswith("03-30") or "04-" in row[:3]
    ]


def test_reassessment_change_device():
    """Five working days over Easter: Wednesday 8 April; five more: 15th."""
    assert changed() == ["03-30 03-30 04-08 04-15 tier 3 owed"]


def test_done_by_another_device_of_the_person_and_side_ordered():
    assert changed(following={"ordered": "2026-04-01"})[0] == "03-30 03-30 04-08 04-15 tier 3 done 04-01"
    assert changed(following={"ordered": "2026-03-30"})[0] == "03-30 03-30 04-08 04-15 tier 3 done 03-30"
    assert changed(following={"ordered": "2026-03-29"})[0].endswith("owed")
    assert changed(following={"ordered": "2026-04-01", "side": "right"})[0].endswith("owed")


def test_not_cancelled_by_the_end_of_the_device():
    assert changed(ended="2026-04-01") == ["03-30 03-30 04-08 04-15 tier 3 owed"]
    assert changed(ended="2026-04-01", following={"ordered": "2026-04-10"})[0].endswith("done 04-10")


def test_but_a_change_on_its_last_day_starts_none():
    assert changed(ended="2026-03-30") == []


def test_a_discharge_cancels_it():
    assert changed(status("2026-04-01", "discharged"))[0].endswith("cancelled 04-01")


def test_at_most_one_of_this_sort_not_done():
    again = fact("reassessment", "2026-04-01", decision="change device")
    assert len(changed(again)) == 1


def test_a_second_decision_on_the_day_of_the_order_is_done_by_it_too():
    """Causes count before what does them: the first was still owed when the second was taken."""
    again = fact("reassessment", "2026-04-01", decision="change device")
    assert changed(again, following={"ordered": "2026-04-01"})[0] == "03-30 03-30 04-08 04-15 tier 3 done 04-01"
    found = rows(
        case(CHANGE, again, devices=[NOW, device(device="D2", ordered="2026-04-01")]), "supply", device="D1"
    )
    assert [(str(row.started), str(row.done)) for row in found] == [("2026-03-30", "2026-04-01")]


def away(on, **more):
    return fact("away", on, **more)


def workshop(*facts, **about):
    return ledger(case(*facts, **about), "back from workshop")


def test_back_from_workshop_promised_else_five_working_days_after():
    assert workshop(away("2026-03-30", promised="2026-04-03")) == ["03-30 03-30 04-07 04-09 tier 3 owed"]
    assert workshop(away("2026-03-30")) == ["03-30 03-30 04-08 04-10 tier 3 owed"]


def test_done_when_it_is_back():
    assert workshop(away("2026-03-30", back="2026-04-01")) == ["03-30 03-30 04-08 04-10 tier 3 done 04-01"]


def test_tier_1_if_the_person_fell_while_it_was_away():
    gone = away("2026-03-30", back="2026-04-02")
    for on, tier in (("2026-03-29", 3), ("2026-03-30", 1), ("2026-04-01", 1), ("2026-04-02", 3)):
        assert workshop(gone, fact("fall", on)) == [f"03-30 03-30 04-08 04-10 tier {tier} done 04-02"]


def test_the_end_of_the_device_cancels_it():
    ends = [device(delivered="2024-01-08", ended="2026-04-01")]
    assert workshop(away("2026-03-30"), devices=ends) == ["03-30 03-30 04-08 04-10 tier 3 cancelled 04-01"]


def replacement(*facts, **about):
    return ledger(case(*facts, **about), "replacement")


def review(on, decision="continue"):
    return fact("reassessment", on, decision=decision)


def test_replacement_36_months_less_three():
    """33 months after 31 March 2024 (a Sunday): 31 December 2026; opens 30 September; grace 31 March 2027."""
    assert replacement(devices="2024-03-31") == [
        "2024-03-31 09-30 12-31 2027-03-31 tier 5 owed",
    ]


def test_one_addition_from_the_anchor():
    """Delivered on 30 November 2025, life 6: three months later, 28 February 2026, Saturday: 2 March."""
    short = [device(delivered="2025-11-30", life_months=6)]
    assert replacement(devices=short) == ["2025-11-30 2025-12-02 03-02 06-02 tier 5 owed"]


def test_the_devices_own_life():
    assert replacement(devices=[device(delivered="2026-03-02", life_months=12)]) == [
        "03-02 09-02 12-02 2027-03-02 tier 5 owed"
    ]
    assert replacement(devices=[device(delivered="2026-03-02", life_months=2)]) == [
        "03-02 03-02 03-02 06-02 tier 5 owed"
    ]


@pytest.mark.parametrize(("born", "due"), [("2010-03-03", "2026-12-02"), ("2010-03-02", "2028-12-04")])
def test_twelve_if_under_16_at_delivery(born, due):
    """Nine months: 2 December 2026; 33: 2 December 2028, a Saturday."""
    (row,) = rows(case(who=person(born=born)), "replacement")
    assert str(row.due) == due


LIFE = [device(delivered="2026-03-02", life_months=12)]


def test_done_by_a_reassessment_on_or_after_it_opens():
    assert replacement(review("2026-09-01"), devices=LIFE)[0].endswith("owed")
    assert replacement(review("2026-09-02"), devices=LIFE)[0].endswith("done 09-02")


def test_such_a_reassessment_starts_the_next_twelve_months_on():
    """2 September 2027; opens 2 June, grace to 2 December."""
    found = replacement(review("2026-09-02"), devices=LIFE)
    assert found[1] == "09-02 2027-06-02 2027-09-02 2027-12-02 tier 5 owed"


def test_six_if_under_16():
    found = replacement(review("2026-09-02"), devices=LIFE, who=person(born="2015-01-01"))
    assert found[1] == "09-02 12-02 2027-03-02 2027-06-02 tier 5 owed"


@pytest.mark.parametrize(("decision", "rows_there"), [("reduce wear", 2), ("change device", 1), ("end", 1)])
def test_unless_change_device_or_end(decision, rows_there):
    assert len(replacement(review("2026-09-02", decision), devices=LIFE)) == rows_there


def test_taken_over_later_it_starts_on_that_day_and_counts_from_delivery():
    over = [device(delivered="2023-01-09", taken_over="2026-03-02")]
    assert replacement(devices=over) == ["03-02 03-02 03-02 06-02 tier 5 owed"]
