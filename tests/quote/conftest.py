"""What the tests of quotations share."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
