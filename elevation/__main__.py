"""``python -m elevation``."""

from elevation.cli import main

if __name__ == "__main__":
    main()
