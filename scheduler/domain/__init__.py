"""The shop in frozen dataclasses: no files, no solver, no printing."""
