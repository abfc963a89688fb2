"""The dashboard: each question of the shop on a page of its own. It sees the front doors and domain, nothing else."""
