"""The first run: three ways on from an empty caseload."""
