"""The arithmetic of the trade: pure functions with formula, units, range and source."""
