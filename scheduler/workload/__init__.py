"""From what the shop typed to a Week: runs, screen sets, fits and assumptions."""
