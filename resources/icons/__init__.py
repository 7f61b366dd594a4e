"""Icons."""
