"""The nouns of the work: people, devices, facts, follow-ups. Standard library only."""
