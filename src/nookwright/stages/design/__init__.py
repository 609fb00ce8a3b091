"""The furniture, made to fit the room."""
