"""How the tables of the book came to be, step by step."""
