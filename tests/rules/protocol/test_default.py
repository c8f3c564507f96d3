"""The shipped protocol file: its comments, its ranges and its sources say the same as the code."""

from __future__ import annotations

import re
import tomllib
from datetime import date

import pytest

from caseload.records import words
from caseload.records.followups import FollowUpKind
from caseload.rules.protocol import Limit, SkinLimit, shipped, shipped_text
from caseload.rules.protocol.read import PHONES, TABLES
from caseload.rules.protocol.settings import settings_of
from caseload.rules.spans import read_span

SETTINGS = [
    (table, name, setting) for table, record in TABLES.items() for name, setting in settings_of(record).items()
]
SOURCE = re.compile(
    r"common practice|memory|\bours\b|NHS|RNOH|CMS|NICE|IWGDF|leaflet|et al\.|Lewek|Stevenson|clinician",
    re.IGNORECASE,
)
"""What names where a number comes from, or says that nothing does."""


def lines_of(table: str) -> dict[str, str]:
    """The line of each key of a table."""
    block = re.search(rf"^\[{table}\]\n(.*?)(?=^\[|\Z)", shipped_text(), re.MULTILINE | re.DOTALL)
    assert block is not None
    found = (re.match(r"(\w+) = .*", line) for line in block[1].splitlines())
    return {match[1]: match[0] for match in found if match}


@pytest.mark.parametrize(("table", "name", "setting"), SETTINGS, ids=lambda each: str(each)[:30])
def test_every_allowed_comment_is_the_range_that_is_enforced(table, name, setting):
    said = re.search(r"allowed: (.*)$", lines_of(table)[name])
    assert (said[1].strip() if said else "") == setting.allowed


@pytest.mark.parametrize(("table", "name"), [(table, name) for table, name, _ in SETTINGS])
def test_every_setting_carries_a_source_or_the_words_common_practice(table, name):
    line = lines_of(table)[name]
    source = re.search(r'source = "([^"]*)"', line)
    told = source[1] if source else line.partition("#")[2]
    assert SOURCE.search(told), line


def test_every_caution_and_the_minutes_name_their_source():
    assert all(caution.source for caution in shipped().cautions)
    assert re.search(r"# .*memory.*common practice.*\n\[minutes\]", shipped_text())


def test_it_says_that_it_is_an_example_and_that_a_local_policy_comes_first():
    head = shipped_text().split("version =")[0]
    assert "EXAMPLE" in head
    assert "local policy" in head
    assert any(
        "always" in caution.when and "local policy" in caution.sentence for caution in shipped().cautions
    )


def limits() -> dict[str, Limit | SkinLimit]:
    found = {}
    for table, name, _ in SETTINGS:
        value = getattr(getattr(shipped(), table), name)
        if isinstance(value, Limit | SkinLimit):
            found[f"{table}.{name}"] = value
    return found


# The tables of rules.md 4, typed in: due | early | grace | tier.
TABLE = {
    "fit_check.delivered": "0 wd | at once | 3 wd | 3",
    "fit_check.adjustment_pressing": "2 wd | at once | 2 wd | 3",
    "fit_check.adjustment": "5 wd | 3 d | 5 wd | 3",
    "fit_check.footwear": "5 wd | 3 d | 5 wd | 3",
    "fit_check.device_back": "1 wd | at once | 2 wd | 3",
    "fit_check.needs_adjustment": "5 wd | 3 d | 5 wd | 2",
    "fit_check.not_to_be_worn": "2 wd | at once | 2 wd | 2",
    "fit_check.wear_stopped": "2 wd | at once | 2 wd | 2",
    "donning.practice": "7 d | 6 d | 7 d | 3",
    "wear.first_check": "3 d | 2 d | 4 d | 3",
    "wear.first_check_vulnerable": "2 d | 2 d | 4 d | 3",
    "wear.check": "7 d | 2 d | 4 d | 3",
    "wear.check_vulnerable": "3 d | 2 d | 4 d | 3",
    "adjustment.rub_urgent": "1 wd | at once | 1 wd | 1",
    "adjustment.unsafe": "1 wd | at once | 1 wd | 1",
    "adjustment.rub_stop": "3 wd | at once | 2 wd | 2",
    "adjustment.fall": "3 wd | at once | 2 wd | 2",
    "adjustment.rub_watch": "10 wd | at once | 5 wd | 3",
    "adjustment.discomfort": "10 wd | at once | 5 wd | 3",
    "adjustment.growth": "10 wd | at once | 5 wd | 3",
    "adjustment.worn_out": "20 wd | at once | 10 wd | 4",
    "adjustment.footwear": "20 wd | at once | 10 wd | 4",
    "adjustment.noise_or_appearance": "20 wd | at once | 10 wd | 4",
    "reassessment.fall_serious": "5 wd | at once | 2 wd | 2",
    "reassessment.fall_other": "14 d | 14 d | 5 wd | 3",
    "reassessment.rub_cleared": "28 d | 7 d | 5 wd | 3",
    "reassessment.measured_worse": "28 d | 14 d | 10 wd | 3",
    "reassessment.taken_over": "given | 14 d | 10 wd | 4",
    "reassessment.settling_in_first": "2 weeks | 5 d | 5 wd | 4",
    "reassessment.settling_in_second": "6 weeks | 7 d | 10 wd | 4",
    "reassessment.settling_in_third": "12 weeks | 14 d | 15 wd | 4",
    "reassessment.by_hand": "given | 14 d | 10 wd | 4",
    "reassessment.improving": "6 weeks | 7 d | 10 wd | 4",
    "reassessment.declining": "3 months | 14 d | 10 wd | 4",
    "reassessment.stable": "6 months | 28 d | 20 wd | 4",
    "reassessment.no_trajectory": "6 weeks | 7 d | 10 wd | 4",
    "reassessment.foot_risk_1": "11 months | 28 d | 20 wd | 4",
    "reassessment.foot_risk_2": "5 months | 14 d | 10 wd | 4",
    "reassessment.foot_risk_3": "2 months | 14 d | 10 wd | 3",
    "reassessment.under_6": "3 months | 14 d | 10 wd | 4",
    "reassessment.under_16": "4 months | 14 d | 10 wd | 4",
    "people.rebooking": "2 wd | at once | 3 wd | 4",
    "people.escalation": "0 wd | at once | 1 wd | 1",
    "people.escalation_by_sign": "0 wd | at once | 1 wd | 1",
    "people.open_access_ending": "28 d | 28 d | given | 5",
    "supply.ordered": "30 wd | 7 d | 5 wd | 3",
    "supply.change_device": "5 wd | at once | 5 wd | 3",
    "supply.back_from_workshop": "5 wd | at once | 2 wd | 3",
    "supply.replacement": "36 months | 3 months | 3 months | 5",
    "supply.replacement_child": "12 months | 3 months | 3 months | 5",
    "supply.replacement_kept": "12 months | 3 months | 3 months | 5",
    "supply.replacement_kept_child": "6 months | 3 months | 3 months | 5",
}


def test_every_limit_is_that_of_the_tables():
    read = {name: limit for name, limit in limits().items() if isinstance(limit, Limit)}
    assert set(read) == set(TABLE)
    for name, row in TABLE.items():
        due, early, grace, tier = row.split(" | ")
        limit = read[name]
        assert (limit.due, limit.early, limit.grace, limit.tier) == (
            read_span(due),
            read_span(early),
            read_span(grace),
            int(tier),
        ), name


SKIN = {
    # told | seen | told vulnerable | seen vulnerable | grace | tier
    "skin.urgent": "0 wd | 2 wd | 0 wd | 1 wd | 1 wd | 1",
    "skin.stop": "2 wd | 5 wd | 1 wd | 2 wd | 2 wd | 2",
    "skin.watch": "5 wd | 5 wd | 5 wd | 5 wd | 5 wd | 3",
}


def test_every_limit_of_skin_is_that_of_the_table():
    read = {name: limit for name, limit in limits().items() if isinstance(limit, SkinLimit)}
    assert set(read) == set(SKIN)
    for name, row in SKIN.items():
        *spans, tier = row.split(" | ")
        limit = read[name]
        assert [limit.told, limit.seen, limit.told_vulnerable, limit.seen_vulnerable, limit.grace] == [
            read_span(each) for each in spans
        ]
        assert limit.tier == int(tier)


def test_the_numbers_that_stand_in_prose():
    protocol = shipped()
    assert protocol.first_day == date(1900, 1, 1)
    assert protocol.weekdays == frozenset(range(5))
    assert (protocol.skin.watch_from_minutes, protocol.skin.stop_over_minutes) == (20, 30)
    assert protocol.skin.vulnerable_stop_from_minutes == 20
    assert (protocol.skin.watch_from_pain, protocol.skin.stop_from_pain) == (1, 7)
    assert protocol.donning.enough == ("05", "06")
    assert protocol.donning.enough_alone == ("06",)
    assert protocol.donning.stalled_after == 3
    assert (protocol.wear.goal_hours, protocol.wear.start_again_after) == (6, 7)
    assert (protocol.reassessment.falls_together, str(protocol.reassessment.falls_within)) == (3, "90 days")
    assert (protocol.reassessment.spread_weeks, protocol.reassessment.spread_weeks_pressing) == (12, 4)
    assert str(protocol.reassessment.not_sooner_than) == "10 working days"
    assert str(protocol.people.told_within) == "7 days"
    assert protocol.supply.back_after_a_fall_tier == 1
    assert str(protocol.supply.before_the_end) == "3 months"
    assert str(protocol.adjustment.repeat_within) == "90 days"
    assert str(protocol.away.after_back) == str(protocol.away.after_pause) == "2 working days"
    assert str(protocol.away.without_a_promise) == "5 working days"
    assert str(protocol.ends.shown_for) == "28 days"
    assert str(protocol.measures.baseline_within) == "24 months"


def test_minutes_for_every_kind_of_follow_up_and_every_phone_key():
    assert set(shipped().minutes) >= {kind.value for kind in FollowUpKind}
    assert set(shipped().phones) == set(PHONES)


# rules.md 9: what must be among the cautions at least, and when it is called for.
@pytest.mark.parametrize(
    ("when", "says"),
    [
        ("urgent", "not on again until seen"),
        ("numbness", "peroneal nerve"),
        ("weakness", "nothing over that spot"),
        ("fibular head", "seen today"),
        ("weakness", "do not assume the device"),
        ("infection", "medical service today"),
        ("calf swelling", "no massage"),
        ("cold or pale", "emergency number"),
        ("hot swollen foot", "within one working day"),
        ("wear stop", "toilet tonight"),
        ("away", "toilet tonight"),
        ("not to be worn", "toilet tonight"),
        ("fit check", "non-slip"),
        ("no staff tomorrow", "{DATE}"),
        ("always", "local policy"),
    ],
)
def test_cautions_that_must_be_there(when, says):
    assert any(when in caution.when and says in caution.sentence for caution in shipped().cautions)


def test_every_sign_that_makes_a_look_urgent_has_a_caution():
    called = {when for caution in shipped().cautions for when in caution.when}
    assert set(words.SIGNS) - {"firm or warm"} <= called


def test_the_file_is_toml_for_any_reader():
    assert tomllib.loads(shipped_text())["version"] == shipped().version
