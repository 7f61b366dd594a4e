"""The invented scenario that the demo journal is made from."""
