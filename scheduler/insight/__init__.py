"""What holds the week up, why an order ends when it does, and what would help."""
