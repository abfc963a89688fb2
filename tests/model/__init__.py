"""Tests of the exact model."""
