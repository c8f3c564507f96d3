"""The two papers the screens are printed on: dark and light, each with one accent."""

from __future__ import annotations

import os
from dataclasses import replace
from typing import Any

from textual.theme import Theme

DARK = Theme(
    "caseload-dark",
    primary="#7fb7c9",
    secondary="#7fb7c9",
    accent="#7fb7c9",
    warning="#e0b25c",
    error="#ef8a7a",
    success="#8fbf8f",
    foreground="#dcdcd6",
    background="#16191c",
    surface="#1e2327",
    panel="#262c31",
    dark=True,
    variables={"text-muted": "#95a0a6", "surface-lighten-1": "#2f383f", "surface-lighten-2": "#3a444c"},
)
LIGHT = Theme(
    "caseload-light",
    primary="#125e77",
    secondary="#125e77",
    accent="#125e77",
    warning="#7a4b00",
    error="#a3261a",
    success="#2c6330",
    foreground="#1f2427",
    background="#faf9f5",
    surface="#efeee8",
    panel="#e5e3db",
    dark=False,
    variables={"text-muted": "#5d676c", "surface-lighten-1": "#d9e6ea", "surface-lighten-2": "#c9c7bd"},
)


def _without_colour(theme: Theme) -> Theme:
    """The same paper in one ink: weight and words say what colour would only repeat."""
    ink = theme.foreground or ""
    inks: dict[str, Any] = dict.fromkeys(("primary", "secondary", "accent", "warning", "error", "success"), ink)
    return replace(theme, name=f"{theme.name}-plain", **inks)


PAPERS = {theme.name: theme for theme in (DARK, LIGHT, _without_colour(DARK), _without_colour(LIGHT))}


def first() -> str:
    """The paper to begin with: light where the terminal says so (`COLORFGBG`), in one ink under `NO_COLOR`."""
    ground = os.environ.get("COLORFGBG", "").rpartition(";")[2]
    paper = LIGHT.name if ground in ("7", "15") else DARK.name
    return f"{paper}-plain" if os.environ.get("NO_COLOR") else paper


def other(paper: str) -> str:
    """Light for dark, and dark for light."""
    return paper.replace("dark", "light") if "dark" in paper else paper.replace("light", "dark")
