"""What this machine offers: clocks, folders, files, sound, speech."""
