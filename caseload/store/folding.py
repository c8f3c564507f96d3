"""Text folded for finding: no capitals, no accents, so that `asa` finds `Åsa` and `oyvind` `Øyvind`."""

from __future__ import annotations

import unicodedata

_WHOLE_LETTERS = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ħ": "h", "ı": "i", "’": "'"}
)
"""Letters that Unicode does not take apart into a letter and a mark."""


def fold(text: str) -> str:
    """Case-folded, without combining marks, single-spaced."""
    if text.isascii():
        return " ".join(text.lower().split())
    apart = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return " ".join(plain.translate(_WHOLE_LETTERS).split())


def folded_person(family: str, given: str, reference: str) -> str:
    """What a person is found by; family name first, so that it sorts as a list of names does."""
    return f"{fold(family)} {fold(given)} {fold(family)} {fold(reference)}"
