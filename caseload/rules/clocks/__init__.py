"""One clock a file: each reads facts of a device or person and writes the rows of one table of rules.md 4."""
