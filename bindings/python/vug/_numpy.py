# SPDX-License-Identifier: MIT
"""numpy, or None where it is not there: the package works without."""
from typing import Any

numpy: Any
try:
    import numpy
except ImportError:
    numpy = None

__all__ = ["numpy"]
