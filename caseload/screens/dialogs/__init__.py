"""Small questions: choose one, say why, yes or no, which of two versions."""
