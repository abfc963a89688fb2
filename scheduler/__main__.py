"""`python -m scheduler` is the command `pressweek`."""

from scheduler.cli import main

if __name__ == "__main__":
    main()
