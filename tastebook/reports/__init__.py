"""Domain values as tables, series, sentences and documents."""
