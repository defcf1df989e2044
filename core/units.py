"""Every conversion factor of the program; nothing else may hold one.

Inside `core` all quantities are SI; these factors turn them at the border.
"""

M_PER_FT = 0.3048  # exact, international foot
MM_PER_INCH = 25.4  # exact
M_PER_US_SURVEY_FT = 1200.0 / 3937.0  # exact
M_PER_YD = 0.9144  # exact, international yard
M_PER_MILE = 1609.344  # exact
M_PER_NAUTICAL_MILE = 1852.0  # exact
MPS_PER_MPH = M_PER_MILE / 3600.0
MPS_PER_KNOT = M_PER_NAUTICAL_MILE / 3600.0
MPS_PER_KMH = 1.0 / 3.6
SQ_M_PER_ACRE = 4046.8564224  # exact, international acre
SECONDS_PER_HOUR = 3600
SECONDS_PER_MINUTE = 60


def f_from_c(celsius):
    """Degrees Fahrenheit from Celsius. [degF]"""
    return celsius * 9.0 / 5.0 + 32.0


def c_from_f(fahrenheit):
    """Degrees Celsius from Fahrenheit. [degC]"""
    return (fahrenheit - 32.0) * 5.0 / 9.0
