"""How much of the moon's disc is lit. Information only: nothing is scored by it."""

import numpy as np

UNIX_EPOCH_JD = 2440587.5
J2000_JD = 2451545.0
DAYS_PER_CENTURY = 36525.0
SECONDS_PER_DAY = 86400.0
KM_PER_AU = 149597870.7

# The largest periodic terms of Meeus's chapter 47: (degrees or km; multiples of the
# moon's mean elongation, the sun's and the moon's mean anomaly, and the moon's
# argument of latitude).
LONGITUDE_TERMS_DEG = (
    (6.288774, 0, 0, 1, 0),
    (1.274027, 2, 0, -1, 0),
    (0.658314, 2, 0, 0, 0),
    (0.213618, 0, 0, 2, 0),
    (-0.185116, 0, 1, 0, 0),
    (-0.114332, 0, 0, 0, 2),
    (0.058793, 2, 0, -2, 0),
    (0.057066, 2, -1, -1, 0),
    (0.053322, 2, 0, 1, 0),
    (0.045758, 2, -1, 0, 0),
    (-0.040923, 0, 1, -1, 0),
    (-0.034720, 1, 0, 0, 0),
    (-0.030383, 0, 1, 1, 0),
)
LATITUDE_TERMS_DEG = (
    (5.128122, 0, 0, 0, 1),
    (0.280602, 0, 0, 1, 1),
    (0.277693, 0, 0, 1, -1),
    (0.173237, 2, 0, 0, -1),
)
DISTANCE_TERMS_KM = (
    (385000.56, 0, 0, 0, 0),
    (-20905.355, 0, 0, 1, 0),
    (-3699.111, 2, 0, -1, 0),
    (-2955.968, 2, 0, 0, 0),
)


def moon_illuminated_frac(time_s):
    """Lit share of the moon's disc.

    Args:
        time_s: instants, epoch seconds UTC. Any shape. The minute between this
            and the dynamical time of the source moves the answer by 0.0001.

    Returns: 0 at new moon to 1 at full moon. Same shape.
    Missing: NaN gives NaN.
    Source: [meeus1998] chapter 48: elongation (48.2), phase angle (48.3), k =
        (1 + cos i) / 2 (48.1), the moon's place by the largest terms of chapter
        47 and the sun's by chapter 25. Its shorter formula (48.4) is 0.0015 off
        in its own example, more than is allowed here.
    """
    days = np.asarray(time_s, float) / SECONDS_PER_DAY + UNIX_EPOCH_JD - J2000_JD
    angles = _mean_angles(days / DAYS_PER_CENTURY)
    elongation, sun_anomaly = angles[0], angles[1]
    sun_centre_deg = 1.914602 * np.sin(sun_anomaly) + 0.019993 * np.sin(2.0 * sun_anomaly)
    moon_from_mean = np.radians(_series(LONGITUDE_TERMS_DEG, angles, np.sin) - sun_centre_deg)
    latitude = np.radians(_series(LATITUDE_TERMS_DEG, angles, np.sin))
    cos_apart = np.cos(latitude) * np.cos(elongation + moon_from_mean)
    sin_apart = np.sqrt(1.0 - cos_apart**2)
    sun_km = KM_PER_AU * (1.00014 - 0.01671 * np.cos(sun_anomaly))
    moon_km = _series(DISTANCE_TERMS_KM, angles, np.cos)
    phase = np.arctan2(sun_km * sin_apart, moon_km - sun_km * cos_apart)
    return (1.0 + np.cos(phase)) / 2.0


def _mean_angles(t):
    """Moon's elongation, sun's anomaly, moon's anomaly, moon's argument of latitude."""
    degrees = (
        297.8501921 + t * (445267.1114034 - t * (0.0018819 - t / 545868.0)),
        357.5291092 + t * (35999.0502909 - t * 0.0001536),
        134.9633964 + t * (477198.8675055 + t * (0.0087414 + t / 69699.0)),
        93.2720950 + t * (483202.0175233 - t * (0.0036539 + t / 3526000.0)),
    )
    return tuple(np.radians(angle) for angle in degrees)


def _series(terms, angles, function):
    return sum(
        size * function(sum(n * angle for n, angle in zip(multiples, angles, strict=True)))
        for size, *multiples in terms
    )
