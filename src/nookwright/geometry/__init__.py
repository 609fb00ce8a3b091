"""Shapes. No rooms, no wood."""
