"""How wide and how deep air spreads: Briggs's open-country curves and meander."""

import math

import numpy as np

SIGMA_V_MPS = 0.5  # [hanna1983], as quoted with AERMOD: side gusts in the lightest air
SPREAD_AT_M = 100.0  # the width is taken as an angle, at the distance that matters here
STRUCTURE_SHARE = 2.15  # [isc3] initial depth beside a structure: height / 2.15
COVER_SPREAD_DEG = {"open": 0.0, "edge": 8.0, "timber": 15.0}  # assumption, no source

# sigma-y = a x (1 + 0.0001 x)^-1/2; sigma-z = b x (1 + c x)^e   [briggs1973], A ... F
SIGMA_Y_A = np.array([0.22, 0.16, 0.11, 0.08, 0.06, 0.04])
SIGMA_Z_B = np.array([0.20, 0.12, 0.08, 0.06, 0.03, 0.016])
SIGMA_Z_C = np.array([0.0, 0.0, 0.0002, 0.0015, 0.0003, 0.0003])
SIGMA_Z_E = np.array([0.0, 0.0, -0.5, -0.5, -1.0, -1.0])


def sigma_y_m(stability, distance_m):
    """Sideways spread. [m]  Elementwise; class 0 to 5, distance in metres.

    Valid: published for 100 m to 10 km over open country; nearer is stretched.
    Source: [briggs1973], open country.
    """
    x = np.asarray(distance_m, float)
    return SIGMA_Y_A[stability] * x / np.sqrt(1.0 + 0.0001 * x)


def sigma_z_m(stability, distance_m):
    """Upward spread. [m]  Elementwise; class 0 to 5, distance in metres.

    Source: [briggs1973], open country.
    """
    x = np.asarray(distance_m, float)
    return SIGMA_Z_B[stability] * x * (1.0 + SIGMA_Z_C[stability] * x) ** SIGMA_Z_E[stability]


SIGMA_B_RAD = sigma_y_m(np.arange(6), SPREAD_AT_M) / SPREAD_AT_M


def spread_rad(stability, effective_speed_mps, cover_deg=0.0):
    """Standard deviation of the direction the air takes. [rad]  Elementwise.

    Args:
        stability: class 0 to 5.
        effective_speed_mps: wind that steadies the air, see `core.air.slopes`. [m/s]
        cover_deg: what the cover at the source adds. [deg]

    Source: the larger of [briggs1973] at 100 m and [hanna1983] 0.5 m/s over
    speed; cover is an assumption.
    """
    meander = SIGMA_V_MPS / np.asarray(effective_speed_mps, float)
    air = np.maximum(SIGMA_B_RAD[stability], meander)
    return np.hypot(air, np.radians(cover_deg))


def thinning_per_m(stability, distance_m, height_m=0.0):
    """V(r): how thin the air is through its depth. [1/m]  Elementwise.

    Height thins the air near the tree; it is never taken to carry it overhead.
    Source: ground source with reflection, sqrt(2/pi)/sigma-z; [isc3] for height.
    """
    depth_m = np.hypot(sigma_z_m(stability, distance_m), np.asarray(height_m) / STRUCTURE_SHARE)
    return math.sqrt(2.0 / math.pi) / depth_m
