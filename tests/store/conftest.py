"""Both engines for these tests."""

from tests.store.databases import desk, file, pattern, place, quick, server, store

__all__ = ["desk", "file", "pattern", "place", "quick", "server", "store"]
