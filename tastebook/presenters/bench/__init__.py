"""What the Bench shows, and which gesture does what."""
