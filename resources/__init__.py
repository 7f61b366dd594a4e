"""What the program reads and does not compute: each folder is a package, so that a wheel carries it."""
