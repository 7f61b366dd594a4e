"""Controls drawn in the house style, each of which can be tabbed to and read out."""
