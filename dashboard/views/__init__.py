"""One file per page; each is thin: it asks `state.current()` and lays out parts and charts."""
