"""Tests of the way from a typed shop to a week."""
