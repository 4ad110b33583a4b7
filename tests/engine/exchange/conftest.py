"""Makes the scores of these tests importable by their own name."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
