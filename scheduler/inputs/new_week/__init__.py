"""A new week's files from a few questions: what is asked, what is offered, what is written."""
