"""What people type and read, on the screens and the command line: pure functions, no terminal."""
