"""The page model, views, pages and their export."""
