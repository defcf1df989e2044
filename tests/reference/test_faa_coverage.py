"""Wind coverage of a runway, and shares of directions, from a published table.

Source: FAA AC 150/5300-13 change 17, appendix 1, figure A1-2, "Anytown, USA", hourly
observations 1995-2004, as retyped in a public exercise (scribd 600893555); counts by
direction (true, 10 deg) and speed group (knots). Coverage of runway 105-285 at 13
knots of crosswind: 97.28 % (from memory: the circular's text was not reached); the
tolerance of 0.05 is the rounding of its cells to a tenth of a per cent. The shares
are sums of the printed counts.
"""

from itertools import pairwise

import numpy as np
import pytest
from scipy import stats

from core.angles import mean_direction_deg
from core.units import MPS_PER_KNOT
from tests.wind_coverage import JointCounts, coverage_frac, overlap_frac

# direction: 0-3, 4-6, 7-10, 11-16, 17-21, 22-27, 28-33, 34-40, 41 and over
ANYTOWN = """
 10  174   652   586   247     6     0     0     0   0
 20  213   816   698   221     7     0     0     0   0
 30  235   894   656   158     4     0     0     0   2
 40  167   806   559    88     0     0     0     0   0
 50  182   809   345    44     1     0     0     0   0
 60  199   753   332    30     5     0     0     0   0
 70  158   550   187    20     0     0     0     0   1
 80  134   453   194    22     1     0     0     0   0
 90  145   373   169    16     2     0     0     0   0
100  103   321   115    19     1     0     0     0   2
110   92   293   138    25     0     0     0     0   0
120   90   283   207    33     3     0     0     0   0
130   93   279   188    28     0     0     0     0   0
140   65   246   195    55     2     0     0     0   1
150   64   213   194    42     4     0     0     0   0
160   61   236   201   105    16     1     0     0   1
170   80   254   306   140    10     2     0     0   1
180   88   372   485   194    25     2     0     0   0
190  125   499   608   278    17     2     0     0   0
200  184   717   700   370    27     2     0     0   0
210  264   950   725   331    26     0     0     0   2
220  321  1419  1030   445    40     5     0     0   0
230  396  1658  1355   630    97     9     1     0   0
240  415  1600  1465   782    83    13     2     0   1
250  323  1166  1093   730   119    33     5     0   0
260  311   979   918   715   139    23     4     0   0
270  248   760   810   660   143    28     3     0   0
280  226   625   815   666   105    14     2     0   0
290  162   572   865   710    98    11     0     0   0
300  130   470   788   590    68     5     0     0   0
310   82   394   659   325    31     1     0     0   0
320   97   302   485   246    15     0     0     0   0
330   66   281   450   196     6     1     0     0   0
340   85   265   369   151     4     1     0     0   0
350  102   314   323   152    12     0     0     0   0
360  140   394   457   223    16     0     0     0   0
"""
CALM, TOTAL = 18705, 77364
ROWS = np.array([[float(x) for x in line.split()] for line in ANYTOWN.split("\n") if line])
DIRECTIONS, COUNTS = ROWS[:, 0], ROWS[:, 1:]
EDGES_KT = (0, 3.5, 6.5, 10.5, 16.5, 21.5, 27.5, 33.5, 40.5, np.inf)
TABLE = JointCounts(
    counts=np.roll(COUNTS, 1, axis=0),  # 360 comes first
    speed_edges_mps=np.array(EDGES_KT) * MPS_PER_KNOT,
    calm=CALM,
)
SHARES = [  # of directions inclusive: count, share of all
    ((180, 270), 27970, 36.1538),
    ((230, 260), 15065, 19.4729),
    ((10, 90), 12314, 15.9170),
    ((270, 360), 16219, 20.9645),
]


def crosswind(runway_deg, limit_kt):
    """Fastest wind whose part across the runway stays in the limit. [m/s]"""
    return lambda deg: limit_kt * MPS_PER_KNOT / np.abs(np.sin(np.radians(deg - runway_deg)))


def none(deg):
    return np.zeros_like(deg)


def test_the_table_is_typed_as_printed():
    """Column sums with calm in the first group, and the total, as printed."""
    printed = [24725, 21968, 19670, 9687, 1133, 153, 17, 0, 11]
    sums = COUNTS.sum(axis=0)
    assert [sums[0] + CALM, *sums[1:]] == printed
    assert COUNTS.sum() + CALM == TOTAL


def test_runway_coverage_by_the_area_rule():
    share = coverage_frac(TABLE, none, crosswind(105, 13), calm_counts=True)
    assert 100 * share == pytest.approx(97.28, abs=0.05)


def test_the_middle_of_a_speed_group_is_not_the_area_rule():
    """The short cut that the rule is not: whole cells by their middle."""
    middles = np.array([(a + b) / 2 for a, b in pairwise(EDGES_KT)])
    fastest = crosswind(105, 13)(TABLE.sector_deg)[:, None] / MPS_PER_KNOT
    share = (TABLE.counts * (middles <= fastest)).sum() + CALM
    assert abs(100 * share / TOTAL - 97.28) > 0.3


def test_calm_share():
    assert 100 * TABLE.calm / TABLE.known == pytest.approx(24.1779, abs=1e-4)


@pytest.mark.parametrize(("ends", "count", "percent"), SHARES)
def test_shares_of_directions(ends, count, percent):
    arc = (ends[0] - 5.0, (ends[1] + 5.0) % 360.0)  # ten degrees a report
    own = overlap_frac(DIRECTIONS % 360, 5.0, [arc]) @ COUNTS.sum(axis=1)
    assert own == pytest.approx(count, abs=1e-6)
    share = coverage_frac(TABLE, none, lambda deg: np.where(overlap_frac(deg, 0, [arc]), np.inf, 0))
    assert 100 * share == pytest.approx(percent, abs=1e-4)


def test_mean_direction_and_its_steadiness_against_scipy():
    """262.461 deg and R 0.324082: unit vectors weighted by the printed counts."""
    each = np.repeat(DIRECTIONS, COUNTS.sum(axis=1).astype(int))
    own = mean_direction_deg(each)
    assert own == pytest.approx(262.461, abs=1e-3)
    assert own == pytest.approx(stats.circmean(each, high=360), abs=1e-9)
    assert 1 - stats.circvar(np.radians(each)) == pytest.approx(0.324082, abs=1e-6)
