"""The rules by which spoken tasting is understood, as data."""
