"""The sheet of words."""
