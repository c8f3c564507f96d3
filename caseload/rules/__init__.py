"""What is owed, when and why: pure functions of facts, protocol and calendar. No today in here."""
