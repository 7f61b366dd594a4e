"""The three calls of the timer, made by packaging/build_sounds.py."""
