"""The views: they draw what the presenters say and ask for what the user wants."""
