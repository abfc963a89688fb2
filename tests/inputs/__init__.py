"""Tests of reading weeks and plans from files."""
