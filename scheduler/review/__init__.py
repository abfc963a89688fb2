"""The independent eye: checks and measures finished plans; sees domain and trade only."""
