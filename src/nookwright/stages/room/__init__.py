"""The room's true shape, with its uncertainty."""
