"""The composition root: builds every object once, connects what crosses floors, and shuts down in order."""
