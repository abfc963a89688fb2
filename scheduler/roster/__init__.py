"""Who does what when, by name: fewest short stays at a press, then fewest hand-overs."""
