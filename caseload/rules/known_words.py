"""Free words that are nearly a word already in use: a landmark of the protocol, a clinician's name.

A clock tells areas and lists apart by how they are written, so `Heel` beside `heel` would be two places, and a
clinician's name with a slip in it a list that nobody reads.
"""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def as_known(typed: str, known: Iterable[str]) -> str:
    """The word as it is known when only case or spaces differ; else as it was typed."""
    folded = _folded(typed)
    return next((word for word in known if _folded(word) == folded), typed)


def nearest(typed: str, known: Iterable[str]) -> str:
    """The known word that was most likely meant: one it begins, or one written much like it; else empty."""
    folded = _folded(typed)
    by_fold = {_folded(word): word for word in known}
    begun = [word for fold, word in by_fold.items() if folded and fold.startswith(folded)]
    if begun:
        return begun[0]
    return next((by_fold[fold] for fold in get_close_matches(folded, by_fold, 1, 0.75)), "")


def stranger(typed: str, known: Iterable[str]) -> str:
    """Empty when a word is known or blank; else the question to put: `; did you mean heel?`, or a full stop."""
    words = tuple(known)
    if not typed.strip() or as_known(typed, words) in words:
        return ""
    near = nearest(typed, words)
    return f"; did you mean {near}?" if near else "."


def _folded(word: str) -> str:
    return " ".join(word.split()).casefold()
