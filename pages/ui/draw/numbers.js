/* Geometry on plain numbers: corners as [lat, lon], places in metres or pixels. */

function cornersOf({ type, coordinates }) {
  const flip = ([lon, lat]) => [lat, lon];
  if (type === "Point") return [[flip(coordinates)]];
  if (type === "LineString") return [coordinates.map(flip)];
  return coordinates.map((ring) => ring.slice(0, -1).map(flip));
}

function geometryOf(type, corners) {
  const flip = ([lat, lon]) => [lon, lat];
  if (type === "Point") return { type, coordinates: flip(corners[0][0]) };
  if (type === "LineString") return { type, coordinates: corners[0].map(flip) };
  return { type, coordinates: corners.map((ring) => [...ring, ring[0]].map(flip)) };
}

function middleOf({ geometry, corners }) {
  const line = corners[0];
  if (geometry.type === "Point") return line[0];
  if (geometry.type === "LineString") {
    const [a, b] = [line[Math.floor((line.length - 1) / 2)], line[Math.floor(line.length / 2)]];
    return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  }
  const middle = (i) => (Math.max(...line.map((c) => c[i])) + Math.min(...line.map((c) => c[i]))) / 2;
  return [middle(0), middle(1)];
}

function lengthOf(points) {
  return points.slice(1).reduce((sum, p, i) => sum + Math.hypot(p[0] - points[i][0], p[1] - points[i][1]), 0);
}

function acres(points, squareMetres) {
  const twice = points.reduce((sum, [x, y], i) => {
    const [u, v] = points[(i + 1) % points.length];
    return sum + x * v - u * y;
  }, 0);
  return Math.abs(twice) / 2 / squareMetres;
}

function distancePx(tap, line) {
  if (line.length === 1) return tap.distanceTo(line[0]);
  return Math.min(...line.slice(1).map((b, i) => globalThis.leaflet.LineUtil.pointToSegmentDistance(tap, line[i], b)));
}

function inside(tap, ring) {
  let odd = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length];
    if (a.y > tap.y !== b.y > tap.y && tap.x < ((b.x - a.x) * (tap.y - a.y)) / (b.y - a.y) + a.x) odd = !odd;
  });
  return odd;
}

function sizePx(ring) {
  const span = (i) => Math.max(...ring.map((p) => p[i])) - Math.min(...ring.map((p) => p[i]));
  return span("x") * span("y");
}
