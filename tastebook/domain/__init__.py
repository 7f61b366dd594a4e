"""The trade in plain Python: values and functions that need no screen, no disk and no clock."""
