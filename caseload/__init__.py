"""Orthosis follow-up: what is owed to each person, when, and why."""

__version__ = "0.1.0"
