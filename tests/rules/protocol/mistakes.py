"""Mistakes a clinic may make in its protocol: the edit, the line it stands on, and what must be said."""

from __future__ import annotations

REBOOKING = 'rebooking = { due = "2 working days"'
MISTAKES = {
    "missing key": (
        ("spread_weeks = 12 ", "#"),
        "[reassessment]",
        "spread_weeks is missing from [reassessment]",
    ),
    "unknown key": (
        ("spread_weeks = 12 ", "spread_weeks = 12\nspread_week = 3 "),
        "spread_week = ",
        "spread_week is no setting of [reassessment]. Did you mean spread_weeks?",
    ),
    "unknown table": (
        ("# Supply, workshop, replacement.\n", "[suply]\nx = 1\n"),
        "[suply]",
        "suply is no setting of a protocol. Did you mean supply?",
    ),
    "bad span": ((REBOOKING, 'rebooking = { due = "two days"'), "rebooking", "'two days' is no span"),
    "span that is no text": ((REBOOKING, "rebooking = { due = 2"), "rebooking", "2 is no span"),
    "out of range": (
        (REBOOKING, 'rebooking = { due = "7 weeks"'),
        "rebooking",
        "7 weeks lies outside what is allowed, 0 to 30 days",
    ),
    "number out of range": (
        ("goal_hours = 6 ", "goal_hours = 25 "),
        "goal_hours",
        "25 lies outside what is allowed, 0.5 to 24 hours",
    ),
    "no number": (("goal_hours = 6 ", 'goal_hours = "six" '), "goal_hours", "'six' is no number"),
    "not a number": (("goal_hours = 6 ", "goal_hours = nan "), "goal_hours", "nan lies outside"),
    "yes is no number": (("goal_hours = 6 ", "goal_hours = true "), "goal_hours", "True is no number"),
    "no whole number": (
        ("stalled_after = 3 ", "stalled_after = 3.5 "),
        "stalled_after",
        "3.5 is no whole number",
    ),
    "wrong tier": (
        (
            REBOOKING + ', early = "at once", grace = "3 working days", tier = 4',
            REBOOKING + ', early = "at once", grace = "3 working days", tier = 6',
        ),
        "rebooking",
        "tier is 6",
    ),
    "tier that is yes": (
        (
            REBOOKING + ', early = "at once", grace = "3 working days", tier = 4',
            REBOOKING + ', early = "at once", grace = "3 working days", tier = true',
        ),
        "rebooking",
        "tier is True",
    ),
    "no source": (
        ('source = "set by the clinician, with a reason"', 'source = " "'),
        "by_hand",
        "source is empty",
    ),
    "source missing": (
        (', source = "set by the clinician, with a reason"', ""),
        "by_hand",
        "source is missing",
    ),
    "unknown part": (
        ('fall = { due = "3 working days"', 'fall = { duo = "1 day", due = "3 working days"'),
        "fall = ",
        "duo does not belong here. Did you mean due?",
    ),
    "limit that is no table": (
        ("taken_over = {", 'taken_over = "soon" #{'),
        "taken_over",
        "expected { due, early, grace, tier, source }",
    ),
    "given where nothing is on record": (
        (REBOOKING, 'rebooking = { due = "given"'),
        "rebooking",
        "due date is on no record",
    ),
    "a span where the date is given": (
        ('by_hand = { due = "given"', 'by_hand = { due = "2 days"'),
        "by_hand",
        "due date is given on record",
    ),
    "early in working days": (
        ('check = { due = "7 days", early = "2 days"', 'check = { due = "7 days", early = "2 working days"'),
        "check = ",
        "cannot be counted here",
    ),
    "working days that are counted backwards": (
        ('falls_within = "90 days"', 'falls_within = "60 working days"'),
        "falls_within",
        "cannot be counted here",
    ),
    "bad region": (
        ('region = "GB-ENG"', 'region = "England"'),
        "region",
        "'England'; expected a country as US, or GB-ENG",
    ),
    "bad weekday": (('"thu", "fri"]', '"thu", "fry"]'), "weekdays", "'fry' is no weekday; expected mon"),
    "no weekday": (
        ('weekdays = ["mon", "tue", "wed", "thu", "fri"]', "weekdays = []"),
        "weekdays",
        "expected a list of words",
    ),
    "bad date": (
        ("first_day = 1900-01-01", 'first_day = "1900-01-01"'),
        "first_day",
        "expected a date as 2026-11-24, without quotes",
    ),
    "date with a time": (
        ("first_day = 1900-01-01", "first_day = 1900-01-01T00:00:00"),
        "first_day",
        "expected a date",
    ),
    "no version": (('version = "2026.1"', 'version = ""'), "version", "expected a text in quotes"),
    "bad plan steps": (
        ('gentle = "1d max 1h; 1d max 2h', 'gentle = "1d max 1h; 1 day max 2h'),
        "gentle = ",
        "step 2, '1 day max 2h', is not understood",
    ),
    "bands that fall": (
        ("[[0.4, 0.10], [0.8, 0.15]", "[[0.8, 0.10], [0.4, 0.15]"),
        "gait_speed",
        "the bands must rise",
    ),
    "bands of one": (("[0.8, 0.15], ", "[0.8], "), "gait_speed", "[baseline up to, error]"),
    "no level": (
        ('enough = ["05", "06"]', 'enough = ["5", "06"]'),
        "enough = ",
        "'5' is no level of assistance",
    ),
    "not attempted is not enough": (
        ('enough_alone = ["06"]', 'enough_alone = ["88"]'),
        "enough_alone",
        "'88' is no level of assistance",
    ),
    "minutes out of range": (
        ('"wear check" = 10', '"wear check" = 0'),
        '"wear check"',
        "0 lies outside what is allowed, 1 to 480 minutes",
    ),
    "minutes of a clinic's own": (
        ('"wear check" = 10', '"wear check" = 10\n"strap" = -5'),
        '"strap"',
        "-5 lies outside",
    ),
    "minutes missing": (('"wear check" = 10\n', ""), "[minutes]", "wear check is missing from [minutes]"),
    "phone key missing": (('medical = ""\n', "".ljust(0)), "[phones]", "medical is missing from [phones]"),
    "phone that is no text": (
        ('medical = ""', "medical = 999"),
        "medical",
        "expected a text in quotes, found 999",
    ),
    "caution with an unknown phone": (
        ('call = "out_of_hours"', 'call = "out_of_hour"'),
        None,
        "'out_of_hour' is no key of [phones]. Did you mean out_of_hours?",
    ),
    "caution with an unknown brace": (
        ("{DATE}: give", "{DAY}: give"),
        None,
        "{DAY} is neither {DATE} nor a key of [phones]",
    ),
    "caution without a sentence": (
        ('sentence = "Cold, pale or blue foot: emergency number."\n', ""),
        None,
        "sentence is missing",
    ),
    "minutes turned round": (
        ("watch_from_minutes = 20 ", "watch_from_minutes = 40 "),
        "stop_over_minutes",
        "stop_over_minutes lies below watch_from_minutes",
    ),
    "nothing always": (
        ('when = ["always"]', 'when = ["never"]'),
        "[[caution]]",
        'no caution is shown "always"',
    ),
}
