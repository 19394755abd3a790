export type Vector3 = readonly [number, number, number];

export const ZERO_VECTOR: Vector3 = [0, 0, 0];

export function add([ax, ay, az]: Vector3, [bx, by, bz]: Vector3): Vector3 {
  return [ax + bx, ay + by, az + bz];
}

export function scaleBy(factor: number, [x, y, z]: Vector3): Vector3 {
  return [factor * x, factor * y, factor * z];
}

export function dot([ax, ay, az]: Vector3, [bx, by, bz]: Vector3): number {
  return ax * bx + ay * by + az * bz;
}

export function cross([ax, ay, az]: Vector3, [bx, by, bz]: Vector3): Vector3 {
  return [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
}

export function toUnit(v: Vector3): Vector3 {
  return scaleBy(1 / Math.hypot(...v), v);
}

/** Corners of a regular polygon of radius one in the plane square to n: t₁ from the x axis (y where n is close to x), t₂ = n × t₁. */
export function toTangents(n: Vector3, facets: number): Vector3[] {
  const axis: Vector3 = Math.abs(n[0]) > 0.9 ? [0, 1, 0] : [1, 0, 0];
  const t1 = toUnit(add(axis, scaleBy(-dot(axis, n), n)));
  const t2 = cross(n, t1);
  return Array.from({ length: facets }, (_, j) => {
    const angle = (2 * Math.PI * j) / facets;
    return add(scaleBy(Math.cos(angle), t1), scaleBy(Math.sin(angle), t2));
  });
}
