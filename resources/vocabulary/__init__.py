"""Families and descriptors as TOML."""
