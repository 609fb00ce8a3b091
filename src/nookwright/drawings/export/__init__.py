"""From the page model to bytes: SVG, PDF, 3D."""
