"""Parts and stock become cutting plans."""
