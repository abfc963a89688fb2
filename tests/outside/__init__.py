"""Checks against the outside: published instances, reference libraries, an independent replay."""
