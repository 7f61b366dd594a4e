"""Pages on paper, made without Qt and without a display."""
