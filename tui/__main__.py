"""`python -m tui` in a checkout does what the installed `stillhand` does."""

import os

from tui._launch import forget_current_folder, main

if __name__ == "__main__":
    forget_current_folder(os.path.dirname(os.path.dirname(os.path.realpath(__file__))))
    main()
