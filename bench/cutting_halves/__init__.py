"""The two halves of the cutting bench: sheets and lengths."""
