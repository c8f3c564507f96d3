"""Forms: every fact and record is typed on one, made from its declaration."""
