"""Published tables of sky brightness, as printed. The formulas that use them are in daylight.py."""

from __future__ import annotations

import numpy as np

TWILIGHT_EDGES_DEG = (-12.0, -5.0, -0.8, 5.0, 20.0)
"""Heights of the unrefracted sun at which the next row of TWILIGHT_LOG10_LX begins."""

TWILIGHT_LOG10_LX = np.array(
    [
        (13.84, 262.72, 1447.42, 2797.93),  # -18 to -12 degrees
        (2.7, 12.17, -431.69, -1899.83),  # -12 to -5 degrees
        (2.88, 21.81, -258.11, -858.36),  # -5 to -0.8 degrees
        (2.88, 22.26, -207.64, 1034.3),  # -0.8 to 5 degrees
        (3.05, 13.28, -45.98, 64.33),  # 5 to 20 degrees
        (3.74, 3.97, -4.07, 1.47),  # 20 to 90 degrees
    ]
)
"""Clear moonless sky: log10 of horizontal illuminance in lx is l0 + l1 x + l2 x^2 + l3 x^3, x = height / 90 degrees.

Explanatory Supplement to the Astronomical Almanac (Seidelmann ed. 1992), by way of Vallado 2001, eq. 5-9; coefficients
verified in two independent public codes. Stated error 0.02 (0.01 below -5 degrees) in log10.
"""

PEREZ_CLEARNESS_EDGES = (1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2)
"""Clearness at which the next of the eight bins below begins (Perez et al. 1990, Table 1)."""

PEREZ_GLOBAL = np.array(
    [
        (96.63, -0.47, 11.5, -9.16),
        (107.54, 0.79, 1.79, -1.19),
        (98.73, 0.7, 4.4, -6.95),
        (92.72, 0.56, 8.36, -8.31),
        (86.73, 0.98, 7.1, -10.94),
        (88.34, 1.39, 6.06, -7.6),
        (78.63, 1.47, 4.93, -11.37),
        (99.65, 1.86, -4.46, -3.15),
    ]
)
"""lm/W of global illuminance: a + b W + c cos Z + d ln(Delta); rows are bins.

Perez, Ineichen, Seals, Michalsky & Stewart, Solar Energy 44(5):271-289, 1990, Table 4, by way of three public codes.
"""

PEREZ_DIRECT = np.array(
    [
        (57.2, -4.55, -2.98, 117.12),
        (98.99, -3.46, -1.21, 12.38),
        (109.83, -4.9, -1.71, -8.81),
        (110.34, -5.84, -1.99, -4.56),
        (106.36, -3.97, -1.75, -6.16),
        (107.19, -1.25, -1.51, -26.73),
        (105.75, 0.77, -1.26, -34.44),
        (101.18, 1.58, -1.1, -8.29),
    ]
)
"""lm/W of direct normal illuminance: a + b W + c exp(5.73 Z - 5) + d Delta; rows are bins.

Perez, Ineichen, Seals, Michalsky & Stewart, Solar Energy 44(5):271-289, 1990, Table 4, by way of three public codes.
"""

PEREZ_DIFFUSE = np.array(
    [
        (97.24, -0.46, 12.0, -8.91),
        (107.22, 1.15, 0.59, -3.95),
        (104.97, 2.96, -5.53, -8.77),
        (102.39, 5.59, -13.95, -13.9),
        (100.71, 5.94, -22.75, -23.74),
        (106.42, 3.83, -36.15, -28.83),
        (141.88, 1.9, -53.24, -14.03),
        (152.23, 0.35, -45.27, -7.98),
    ]
)
"""lm/W of diffuse horizontal illuminance: a + b W + c cos Z + d ln(Delta); rows are bins.

Perez, Ineichen, Seals, Michalsky & Stewart, Solar Energy 44(5):271-289, 1990, Table 4, by way of three public codes.
"""
