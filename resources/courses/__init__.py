"""Courses: orders of assessment steps, one TOML file each."""
