"""The screen at which one tastes."""
