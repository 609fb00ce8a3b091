"""Compiled inner loops; importing them loads the compiler, so only a search that has been given time does."""
