"""Help: the keys, and what each screen is for."""
