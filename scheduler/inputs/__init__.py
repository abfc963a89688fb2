"""Files to domain objects and back, every fault at once."""
