"""The journal on disk."""
