"""The lots one has, and what is owed to each."""
