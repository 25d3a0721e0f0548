// A field's own plane: metres east and north of a point in it. A transverse Mercator strip one field wide, so that
// lengths and areas are right to a part in a million within 5 km of that point, anywhere on earth.
import type { Outline, Place, Relief } from '../../engine/ground_answers.ts';

/** Metres east, metres north. */
export type Point = [number, number];
/** A closed ring is told without its first corner again at its end. */
export type Ring = Point[];
/** A polygon's outer ring, then its holes. */
export type Polygon = Ring[];

/** WGS 84: equatorial radius in metres, square of the eccentricity. */
const radius = 6_378_137;
const e2 = 0.00669437999014;
const rad = Math.PI / 180;
/** Across the antimeridian as well. */
const turned = (degrees: number) => degrees - 360 * Math.round(degrees / 360);

const acrossRadius = (latitude: number) => radius / Math.sqrt(1 - e2 * Math.sin(latitude * rad) ** 2);
const alongRadius = (latitude: number) => (radius * (1 - e2)) / (1 - e2 * Math.sin(latitude * rad) ** 2) ** 1.5;

export class Plane {
  readonly origin: Place;
  constructor(origin: Place) {
    this.origin = origin;
  }

  to([longitude, latitude]: Place): Point {
    const phi = latitude * rad;
    const across = acrossRadius(latitude);
    const turn = turned(longitude - this.origin[0]) * rad * Math.cos(phi);
    const bend = 1 - Math.tan(phi) ** 2 + (e2 / (1 - e2)) * Math.cos(phi) ** 2;
    const east = across * (turn + (bend * turn ** 3) / 6);
    // Simpson's rule over the meridian from the origin; then what the parallel bends away from it.
    const [from, middle] = [this.origin[1], (this.origin[1] + latitude) / 2];
    const mean = (alongRadius(from) + 4 * alongRadius(middle) + alongRadius(latitude)) / 6;
    const north = mean * (latitude - from) * rad + (across * Math.tan(phi) * turn ** 2) / 2;
    return [east, north];
  }

  from([east, north]: Point): Place {
    let place: Place = [this.origin[0], this.origin[1]];
    // Each round takes what is left off as the ellipsoid there has it; after four nothing is left.
    for (let round = 0; round < 4; ++round) {
      const [e, n] = this.to(place);
      place = [
        place[0] + (east - e) / (acrossRadius(place[1]) * Math.cos(place[1] * rad)) / rad,
        place[1] + (north - n) / alongRadius(place[1]) / rad,
      ];
    }
    return [turned(place[0]), place[1]];
  }

  polygons(outline: Outline): Polygon[] {
    return outline.coordinates.map((polygon) => polygon.map((ring) => ring.slice(0, -1).map((place) => this.to(place))));
  }

  /** With rings closed and turned as RFC 7946 has them: the outer one against the clock, holes with it. */
  outline(polygons: Polygon[]): Outline {
    const digits = 9; // a tenth of a millimetre
    const place = (point: Point): Place => this.from(point).map((one) => Number(one.toFixed(digits))) as Place;
    const coordinates = polygons.map((polygon) =>
      polygon.map((ring, i) => {
        const isAgainst = signedArea(ring) > 0;
        const turn = isAgainst === (i === 0) ? ring : [...ring].reverse();
        const places = turn.map(place);
        return [...places, places[0]!];
      }),
    );
    return { type: 'MultiPolygon', coordinates };
  }
}

/** Positive against the clock; m². */
export function signedArea(ring: Ring): number {
  let twice = 0;
  for (let i = 0; i < ring.length; ++i) {
    const [a, b] = [ring[i]!, ring[(i + 1) % ring.length]!];
    twice += a[0] * b[1] - b[0] * a[1];
  }
  return twice / 2;
}

/** A plane about the middle of all that is given; undefined without any. */
export function planeOf(outlines: (Outline | undefined)[], relief?: Relief): Plane | undefined {
  const places = [...outlines.flatMap((one) => one?.coordinates.flat(2) ?? []), ...(relief?.corners ?? [])];
  const first = places[0];
  if (!first) return undefined;
  const offsets = places.map((one) => turned(one[0] - first[0]));
  const middle = (list: number[]) => (Math.min(...list) + Math.max(...list)) / 2;
  return new Plane([turned(first[0] + middle(offsets)), middle(places.map((one) => one[1]))]);
}
