"""Tests of the arithmetic of the trade."""
