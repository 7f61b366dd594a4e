"""This machine: clocks, folders, files, sound, speech."""
