"""How wide and how deep air spreads: Pasquill-Gifford curves of ten-minute means.

Sideways spread is kept as an angle, the one at 100 m, times a slow narrowing with
distance that is the same for every class. So a place's strength is one term that
knows class and distance and one that knows spread and angle.
"""

import math

import numpy as np

# [aermod] never takes the side gusts of the lightest air as less. [hanna1983] has 0.5 m/s
# for means of an hour; ten-minute means at Prairie Grass bear out the lower number
SIGMA_V_MPS = 0.2
SPREAD_AT_M = 100.0  # the angle is taken where the curves are published from
STRUCTURE_SHARE = 2.15  # [isc3] initial depth beside a structure: height / 2.15
COVER_SPREAD_DEG = {"open": 0.0, "edge": 8.0, "timber": 15.0}  # assumption, no source

# sigma-y = d x^0.9, means of ten minutes   [spicer1989], A ... F
SIGMA_Y_D = np.array([0.423, 0.313, 0.210, 0.136, 0.102, 0.0674])
SIGMA_Y_POWER = 0.9
# sigma-z = d x^b exp(g ln(x)^2)   [spicer1989], A ... F
SIGMA_Z_D = np.array([107.7, 0.1355, 0.09623, 0.04134, 0.02275, 0.01122])
SIGMA_Z_B = np.array([-1.7172, 0.8752, 0.9477, 1.1737, 1.3010, 1.4024])
SIGMA_Z_G = np.array([0.2770, 0.0136, -0.0020, -0.0316, -0.0450, -0.0540])
CURVES_FROM_M = 100.0
DEEPEST_M = 5000.0  # [boubel1994] table 19-5 stops there
OPEN_ROUGHNESS_M = 0.03  # [epa2000] table 6-10: open flat terrain, grass, few obstacles


def sigma_y_m(stability, distance_m):
    """Sideways spread of ten minutes' air. [m]  Elementwise; class 0 to 5, distance [m].

    Valid: published for 100 m and more over open country; nearer is stretched.
    Source: [spicer1989].
    """
    return SIGMA_Y_D[stability] * np.asarray(distance_m, float) ** SIGMA_Y_POWER


def sigma_z_m(stability, distance_m, roughness_m=OPEN_ROUGHNESS_M):
    """Upward spread, at most 5000 m. [m]  Elementwise.

    Args: class 0 to 5; distance [m]; roughness length of the ground [m].

    Published for 100 m and more over grass or fields; nearer it is taken in
    proportion to distance (class A's curve turns back there).
    Source: [spicer1989]; [yellowbook1997] for other roughness.
    """
    x = np.asarray(distance_m, float)
    log = np.log(np.maximum(x, CURVES_FROM_M))
    depth = SIGMA_Z_D[stability] * np.exp(
        SIGMA_Z_B[stability] * log + SIGMA_Z_G[stability] * log**2
    )
    depth = np.minimum(depth * np.minimum(1.0, x / CURVES_FROM_M), DEEPEST_M)
    return depth if roughness_m == OPEN_ROUGHNESS_M else depth * rougher(x, roughness_m)


def rougher(distance_m, roughness_m):
    """Share that another roughness makes of the upward spread over grass. Elementwise.

    Args: distance [m]; roughness length of the ground [m].
    Source: [yellowbook1997], from memory; its own curves are for 0.1 m, these for 0.03 m.
    """
    power = 0.53 * np.asarray(distance_m, float) ** -0.22
    return (roughness_m / OPEN_ROUGHNESS_M) ** power


SIGMA_B_RAD = sigma_y_m(np.arange(6), SPREAD_AT_M) / SPREAD_AT_M


def narrowing(distance_m):
    """How much narrower air looks from its source, farther than 100 m. Elementwise.

    Args: distance [m]. Returns: 1 at 100 m, more nearer, less farther.
    Source: [spicer1989], sigma-y as distance^0.9 in every class.
    """
    return (np.asarray(distance_m, float) / SPREAD_AT_M) ** (SIGMA_Y_POWER - 1.0)


def spread_rad(stability, effective_speed_mps, cover_deg=0.0):
    """Standard deviation of the direction the air takes, at 100 m. [rad]  Elementwise.

    Args:
        stability: class 0 to 5.
        effective_speed_mps: wind that steadies the air, see `core.air.slopes`. [m/s]
        cover_deg: what the cover at the source adds. [deg]

    Source: the larger of [spicer1989] and [aermod] 0.2 m/s over speed, never both:
    the curves hold ten minutes' wander already; cover is an assumption.
    """
    meander = SIGMA_V_MPS / np.asarray(effective_speed_mps, float)
    air = np.maximum(SIGMA_B_RAD[stability], meander)
    return np.sqrt(air**2 + np.radians(cover_deg) ** 2)


def column_per_m(depth_m, source_m=0.0, receptor_m=0.0):
    """Share of the air at a height, by a Gaussian reflected at the ground. [1/m]

    Args (elementwise): its depth, sigma-z [m]; heights of source and receptor [m].
    Source: [turner1970] equation 3.1.
    """
    depth = np.asarray(depth_m, float)
    if np.ndim(source_m) == np.ndim(receptor_m) == 0 and source_m == receptor_m == 0.0:
        return 2.0 / (math.sqrt(2.0 * math.pi) * depth)  # both on the ground: no exponentials
    down = np.exp(-0.5 * ((receptor_m - source_m) / depth) ** 2)
    up = np.exp(-0.5 * ((receptor_m + source_m) / depth) ** 2)
    return (down + up) / (math.sqrt(2.0 * math.pi) * depth)


def thinning_per_m(
    stability, distance_m, height_m=0.0, *, receptor_m=0.0, roughness_m=OPEN_ROUGHNESS_M
):
    """V(r): how thin the air is through its depth. [1/m]  Elementwise.

    Args: class 0 to 5; distance [m]; heights of the stand and of the place [m];
    roughness length of the ground [m].

    Height thins the air near the tree; it is never taken to carry it overhead.
    Source: ground source with reflection; [isc3] for height.
    """
    deep_m = sigma_z_m(stability, distance_m, roughness_m)
    depth_m = np.hypot(deep_m, np.asarray(height_m) / STRUCTURE_SHARE)
    return column_per_m(depth_m, 0.0, receptor_m)
