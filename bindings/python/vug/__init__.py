# SPDX-License-Identifier: MIT
"""vug: plans how a hollow translucent print is filled, vented, rinsed, drained and sealed."""
