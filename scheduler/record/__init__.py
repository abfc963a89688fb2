"""What really happened: events from the floor, the week as it stands after them, drift, and what a design teaches."""
