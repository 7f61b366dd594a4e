"""A tasting journal with an infusion timer, for people who buy and sell whole-leaf tea."""
