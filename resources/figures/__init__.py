"""The figures that the arithmetic rests on, as TOML: each with its range, its source and how it is known."""
