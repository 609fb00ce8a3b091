"""Measuring the room: its kinds, spots and tools."""
