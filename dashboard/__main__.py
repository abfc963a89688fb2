"""Starts the dashboard's server and opens it: `python -m dashboard WEEK`; `pressweek dashboard` calls this."""

from dashboard.serve import main

main()
