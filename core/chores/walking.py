"""The shortest walk between spots over the ways and trails of a ground, straight where none is.

Paths that cross, or of which one ends within ten yards of another, are one net. A spot off
the net is reached straight from its nearest path, or from a spot that lies nearer to it than
any path; parts of the net that do not meet are joined by the shortest straight line. A way
by boat is not walked. Common practice, no source.
"""

import functools
import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from core.chores.beside import shape_of
from core.ground.layout import Property
from core.ground.plan import Plane
from core.units import M_PER_YD

Floats = npt.NDArray[np.float64]
Place = tuple[float, float]  # local metres

JOIN_M = 10.0 * M_PER_YD  # nearer, an end meets the other path
LEAST_M = 1e-6  # an edge of no length would count as none


@dataclass(frozen=True, slots=True)
class Leg:
    """A walk between two spots: its length, how much of it is on no path, the paths in turn."""

    length_m: float
    straight_m: float
    along: tuple[str, ...]


class PathNet:
    """The net of a ground's paths, with some spots on it.

    Args: lines by id, local metres; spots as (east, north) [m]. Spots keep their number.
    """

    def __init__(self, lines: dict[str, shapely.LineString], spots: Sequence[Place]) -> None:
        self.ids, self.lines = list(lines), list(lines.values())
        self._tree = shapely.STRtree(self.lines)
        self._node_of: dict[tuple[int, int], int] = {}
        self._cuts: list[list[tuple[float, int]]] = [[] for _ in self.lines]
        self._edges: dict[tuple[int, int], tuple[float, str]] = {}  # length, id or "" for straight
        self.spots = [self._node(spot) for spot in spots]
        for i, line in enumerate(self.lines):
            self._cut(i, line.coords[0])
            self._cut(i, line.coords[-1])
        self._join_near()
        self._join_far()
        self._join_spots([shapely.Point(spot) for spot in spots])
        self._along_lines()

    def _node(self, at: Sequence[float]) -> int:
        """A place's number; places within a millimetre are one."""
        key = (round(at[0] * 1000), round(at[1] * 1000))
        return self._node_of.setdefault(key, len(self._node_of))

    def _cut(self, i: int, at: Sequence[float]) -> int:
        """A node on a line. Args: the line's number; the place."""
        node = self._node(at)
        self._cuts[i].append((float(self.lines[i].project(shapely.Point(at))), node))
        return node

    def _edge(self, a: int, b: int, length_m: float, label: str) -> None:
        if a == b:
            return
        pair, known = (min(a, b), max(a, b)), (max(length_m, LEAST_M), label)
        self._edges[pair] = min(known, self._edges.get(pair, known), key=lambda e: e[0])

    def _bridge(self, i: int, j: int, link: shapely.LineString, label: str) -> None:
        a, b = self._cut(i, link.coords[0]), self._cut(j, link.coords[-1])
        self._edge(a, b, link.length, label)

    def _join_near(self) -> None:
        """Paths that cross are joined there, and ends to the path that they lie by."""
        if not self.lines:
            return
        pairs = self._tree.query(self.lines, predicate="dwithin", distance=JOIN_M).T.tolist()
        for i, j in pairs:
            if i == j:
                continue
            if i < j:
                met = shapely.intersection(self.lines[i], self.lines[j])
                for at in shapely.get_coordinates(met):
                    self._cut(i, at), self._cut(j, at)
            links = [shapely.shortest_line(self.lines[i], self.lines[j])]
            for end in (self.lines[i].coords[0], self.lines[i].coords[-1]):
                links.append(shapely.shortest_line(shapely.Point(end), self.lines[j]))
            for link in links:
                if link.length <= JOIN_M:
                    self._bridge(i, j, link, self.ids[i])

    def _join_far(self) -> None:
        """Parts that do not meet are joined by the shortest straight lines."""
        if len(self.lines) < 2:
            return
        from scipy.sparse import coo_array
        from scipy.sparse.csgraph import connected_components, minimum_spanning_tree

        pairs = self._tree.query(self.lines, predicate="dwithin", distance=JOIN_M)
        n = len(self.lines)
        met = coo_array((np.ones(pairs.shape[1]), pairs), shape=(n, n))
        parts, part = connected_components(met, directed=False)
        if parts == 1:
            return
        shapes = [shapely.union_all(np.array(self.lines)[part == p]) for p in range(parts)]
        a, b = np.triu_indices(parts, 1)
        gaps = shapely.distance(np.array(shapes)[a], np.array(shapes)[b])
        tree = minimum_spanning_tree(coo_array((gaps, (a, b)), shape=(parts, parts))).tocoo()
        for p, q in zip(tree.row.tolist(), tree.col.tolist(), strict=True):
            link = shapely.shortest_line(shapes[p], shapes[q])
            i, j = (
                self._nearest(shapely.Point(end), part == which)
                for end, which in zip(link.coords, (p, q), strict=True)
            )
            self._bridge(i, j, link, "")

    def _nearest(self, at: shapely.Point, among: npt.NDArray[np.bool_]) -> int:
        numbers = np.flatnonzero(among)
        far = shapely.distance([self.lines[i] for i in numbers], at)
        return int(numbers[far.argmin()])

    def _join_spots(self, spots: list[shapely.Point]) -> None:
        """Spots to their nearest path, and to each other where that is nearer than any path."""
        off_m = []
        for node, spot in zip(self.spots, spots, strict=True):
            off_m.append(np.inf)
            if self.lines:
                i = int(self._tree.nearest(spot))
                link = shapely.shortest_line(spot, self.lines[i])
                off_m[-1] = link.length
                self._edge(node, self._cut(i, link.coords[-1]), link.length, "")
        for a in range(len(spots)):
            for b in range(a):
                gap = spots[a].distance(spots[b])
                if gap < max(off_m[a], off_m[b]):
                    self._edge(self.spots[a], self.spots[b], gap, "")

    def _along_lines(self) -> None:
        for id_, cuts in zip(self.ids, self._cuts, strict=True):
            cuts.sort()
            for (s, a), (t, b) in itertools.pairwise(cuts):
                self._edge(a, b, t - s, id_)

    @functools.cached_property
    def _shortest(self) -> tuple[Floats, npt.NDArray[np.int32]]:
        """Lengths from each spot to every node, and the node before each on the way."""
        from scipy.sparse import coo_array
        from scipy.sparse.csgraph import dijkstra

        n = len(self._node_of)
        pairs = np.array(list(self._edges), int).reshape(-1, 2).T
        lengths = [length for length, _ in self._edges.values()]
        net = coo_array((lengths, (pairs[0], pairs[1])), shape=(n, n)).tocsr()
        return dijkstra(net, directed=False, indices=self.spots, return_predecessors=True)

    @property
    def lengths_m(self) -> Floats:
        """Shortest lengths between spots. Shape (spot, spot); inf where nothing leads."""
        return self._shortest[0][:, self.spots]

    def leg(self, a: int, b: int) -> Leg:
        """The shortest walk between two spots. Args: their numbers."""
        along: list[str] = []
        length = straight = 0.0
        for step, id_ in self._steps(a, b):
            length += step
            straight += 0.0 if id_ else step
            if id_ and along[-1:] != [id_] and step > JOIN_M:
                along.append(id_)
        return Leg(length, straight, tuple(along))

    def _steps(self, a: int, b: int) -> list[tuple[float, str]]:
        return list(self._backwards(a, self.spots[b]))[::-1]

    def _backwards(self, a: int, node: int) -> Iterator[tuple[float, str]]:
        before = self._shortest[1][a]
        while node != self.spots[a]:
            last = int(before[node])
            yield self._edges[min(last, node), max(last, node)]
            node = last


def paths_of(ground: Property) -> dict[str, shapely.LineString]:
    """What is walked on: ways but by boat, and trails, in local metres by id. Args: the ground."""
    plane = Plane(ground.center)
    ways = {way.id: way for way in ground.lanes if way.by != "boat"}
    trails = {trail.id: trail for trail in ground.corridors}
    return {id_: shape_of(path, plane) for id_, path in {**ways, **trails}.items()}
