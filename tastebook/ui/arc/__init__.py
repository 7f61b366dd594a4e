"""The review of one session."""
