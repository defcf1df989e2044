"""How much of the moon's disc is lit. Information only: nothing is scored by it."""

import numpy as np

UNIX_EPOCH_JD = 2440587.5
J2000_JD = 2451545.0
DAYS_PER_CENTURY = 36525.0
SECONDS_PER_DAY = 86400.0


def moon_illuminated_frac(time_s):
    """Lit share of the moon's disc.

    Args:
        time_s: instants, epoch seconds UTC. Any shape. The minute between this
            and the dynamical time of the source moves the answer by 0.0001.

    Returns: 0 at new moon to 1 at full moon. Same shape.
    Missing: NaN gives NaN.
    Source: [meeus1998] chapter 47 (mean elongation and anomalies) and chapter 48,
        the lower-accuracy phase angle (eq. 48.4); k = (1 + cos i) / 2 (eq. 48.1).
    """
    days = np.asarray(time_s, float) / SECONDS_PER_DAY + UNIX_EPOCH_JD - J2000_JD
    t = days / DAYS_PER_CENTURY
    elongation_deg = 297.8501921 + t * (445267.1114034 - t * (0.0018819 - t / 545868.0))
    sun_anomaly_deg = 357.5291092 + t * (35999.0502909 - t * 0.0001536)
    moon_anomaly_deg = 134.9633964 + t * (477198.8675055 + t * (0.0087414 + t / 69699.0))
    d, m, m_moon = (np.radians(x) for x in (elongation_deg, sun_anomaly_deg, moon_anomaly_deg))
    phase_deg = (
        180.0
        - elongation_deg
        - 6.289 * np.sin(m_moon)
        + 2.100 * np.sin(m)
        - 1.274 * np.sin(2.0 * d - m_moon)
        - 0.658 * np.sin(2.0 * d)
        - 0.214 * np.sin(2.0 * m_moon)
        - 0.110 * np.sin(d)
    )
    return (1.0 + np.cos(np.radians(phase_deg))) / 2.0
