"""Coats, quantities and drying days."""
