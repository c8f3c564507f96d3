"""Find: search as you type over names and references."""
