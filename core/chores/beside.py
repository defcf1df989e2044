"""Which features lie in or beside a bed."""

import shapely

from core.ground.layout import Area, Mark, Property, Stand
from core.ground.plan import Plane
from core.units import M_PER_YD


def shape_of(feature, plane: Plane) -> shapely.Geometry:
    """A feature in local metres. Args: any feature of the ground; its plane."""
    if isinstance(feature, Stand):
        return shapely.Point(plane.points([feature.at])[0])
    if isinstance(feature, Area):
        holes = [plane.points(hole) for hole in feature.holes]
        return shapely.Polygon(plane.points(feature.ring), holes)
    if isinstance(feature, Mark):
        points = plane.points(feature.points)
        if feature.geometry == "Polygon":
            return shapely.Polygon(points, [plane.points(hole) for hole in feature.holes])
        return shapely.LineString(points) if len(points) > 1 else shapely.Point(points[0])
    return shapely.LineString(plane.points(feature.line))


def features_by_id(ground: Property) -> dict:
    """Every feature of a ground by its id. Args: the ground."""
    groups = (ground.stands, ground.lanes, ground.corridors, ground.areas, ground.marks)
    return {feature.id: feature for group in groups for feature in group}


def beside_beds(ground: Property) -> dict[str, tuple[str, ...]]:
    """The beds in or beside which each feature lies, within the owner's distance.

    Args: the ground. Returns: ids of beds by id of feature; features away from all are missing.
    """
    features = features_by_id(ground)
    beds = [area for area in ground.areas if area.kind == "bedding"]
    if not beds:
        return {}
    plane = Plane(ground.center)
    shapes = [shape_of(feature, plane) for feature in features.values()]
    tree = shapely.STRtree([shape_of(bed, plane) for bed in beds])
    within_m = ground.work.beside_bed_yd * M_PER_YD
    pairs = tree.query(shapes, predicate="dwithin", distance=within_m)
    ids = list(features)
    found: dict[str, tuple[str, ...]] = {}
    for feature, bed in sorted(zip(*pairs.tolist(), strict=True)):
        found[ids[feature]] = (*found.get(ids[feature], ()), beds[bed].id)
    return found
