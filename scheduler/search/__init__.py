"""Finding good plans: decoder, local search, windows, bounds."""
