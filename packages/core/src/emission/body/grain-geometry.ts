/** A sphere on the beam's axis under a flat face; lengths in um, z down from the face, the detector towards +x. */
export interface Sphere {
  readonly radius: number;
  /** Depth of its centre: 0 where the face cuts it through the middle, the radius where it just touches the face. */
  readonly centre: number;
}

/** Radius of the sphere's cross section at a depth; 0 where it does not reach. */
export function sectionRadius({ radius, centre }: Sphere, z: number): number {
  return Math.sqrt(Math.max(0, radius * radius - (z - centre) ** 2));
}

/** Way of a photon from a point up to the face that lies inside the sphere; its direction has the given sine and cosine. */
export function pathInSphere(
  { radius, centre }: Sphere,
  x: number,
  y: number,
  z: number,
  sine: number,
  cosine: number,
): number {
  const along = x * cosine - (z - centre) * sine;
  const outside = x * x + y * y + (z - centre) ** 2 - radius * radius;
  const discriminant = along * along - outside;
  if (!(discriminant > 0)) return 0;
  const half = Math.sqrt(discriminant);
  return Math.max(0, Math.min(z / sine, half - along) - Math.max(0, -along - half));
}
