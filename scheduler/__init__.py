"""Pressweek: turns a pile of approved orders into a press queue that holds."""
