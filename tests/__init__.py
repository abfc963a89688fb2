"""Tests of Pressweek; folders mirror the packages."""
