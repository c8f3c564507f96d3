"""What people type and read on the screens: pure functions, no terminal."""
