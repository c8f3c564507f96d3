"""The registry of keys: one meaning a letter, and no two on one screen."""

from __future__ import annotations

from collections import Counter

import pytest

from caseload.screens import keys


@pytest.mark.parametrize("screen", keys.EVERYWHERE)
def test_no_key_has_two_meanings_on_one_screen(screen: str) -> None:
    assert [key for key, n in Counter(key.key for key in keys.of(screen)).items() if n > 1] == []


def test_a_letter_means_the_same_everywhere() -> None:
    letters = [(key.key, key.action) for key in keys.KEYS if len(key.key) == 1]
    assert len({key for key, _ in letters}) == len(letters)


def test_letters_of_screens_to_come_are_free() -> None:
    assert not {"s", "a", "g", "p"} & {key.key for key in keys.KEYS}


def test_each_key_is_explained_in_a_sentence() -> None:
    assert all(key.help.endswith(".") and key.label for key in keys.KEYS)
