"""The four things the user tells us; everything else is worked out."""
