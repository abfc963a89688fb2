"""Pieces that every page shares: the plan line, the late mark, what is shown where there is nothing to show."""
