"""`python -m tui` in a checkout does what the installed `stillhand` does."""

from tui.cli.main import main

if __name__ == "__main__":
    main()
