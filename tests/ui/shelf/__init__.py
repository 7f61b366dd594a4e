"""Tests of the Shelf on screen."""
