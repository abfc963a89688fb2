"""What if: an edit tried on the plan as it stands, answered by plans side by side."""
