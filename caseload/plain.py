"""Untrusted text made harmless to show: names, notes and anything that was imported.

What is stored stays as it was typed; only what is shown passes through here. Nothing is parsed as markup.
"""

from __future__ import annotations

import unicodedata

_FIRST_STRONG_ISOLATE, _POP_ISOLATE = "\u2068", "\u2069"
_BIDI_CONTROLS = {
    "\u061c": "ALM", "\u200e": "LRM", "\u200f": "RLM",
    "\u202a": "LRE", "\u202b": "RLE", "\u202c": "PDF", "\u202d": "LRO", "\u202e": "RLO",
    "\u2066": "LRI", "\u2067": "RLI", "\u2068": "FSI", "\u2069": "PDI",
}  # fmt: skip
_LINE_ENDS = "\n\x0b\x0c\r\x85\u2028\u2029"


def plain(text: str, *, lines: bool = False, longest: int | None = None) -> str:
    """The text with every control character made visible and its writing direction kept to itself.

    On one line unless `lines`; cut to `longest` characters with an ellipsis if given. Text written from right
    to left is isolated, so that it cannot turn round what stands beside it.
    """
    if longest is not None and len(text) > longest:
        text = text[: max(longest - 1, 0)] + "…"
    if text.isascii() and text.isprintable():
        return text
    if lines:
        return "\n".join(plain(line) for line in text.replace("\r\n", "\n").split("\n"))
    shown = visible(text)
    if any(unicodedata.bidirectional(char) in ("R", "AL") for char in shown):
        return f"{_FIRST_STRONG_ISOLATE}{shown}{_POP_ISOLATE}"
    return shown


def visible(text: str, *, lines: bool = False) -> str:
    """The text with every control character made visible, and no isolation: for a field it is edited in."""
    if text.isprintable():
        return text
    if lines:
        return "\n".join(visible(line) for line in text.replace("\r\n", "\n").split("\n"))
    return "".join(_shown(char) for char in text)


def _shown(char: str) -> str:
    if char == "\t":
        return " "
    if char in _LINE_ENDS:
        return "↵"
    if char in _BIDI_CONTROLS:
        return f"‹{_BIDI_CONTROLS[char]}›"
    code = ord(char)
    if code < 0x20:
        return chr(0x2400 + code)
    if code == 0x7F:
        return "␡"
    if 0x80 <= code < 0xA0:
        return f"‹{code:02X}›"
    if 0xD800 <= code < 0xE000 or char == "\ufeff":
        return "\ufffd"
    return char
