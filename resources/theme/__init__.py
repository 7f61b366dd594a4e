"""The tokens of the themes."""
