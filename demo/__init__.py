"""The demo journal and the guided tour, in our own invented scenario."""
