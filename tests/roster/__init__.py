"""Tests of the independent eye."""
