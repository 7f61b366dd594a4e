"""Start from the command line."""
