"""Templates of the printed pages."""
