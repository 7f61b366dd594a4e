"""Colours, type and spacing."""
