"""The Arc: the review of one session."""
