"""How it goes in: levels, packers, fixings, order of work."""
