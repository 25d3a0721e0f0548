// Points, lines and polygons in a field's plane.
import { signedArea, type Point, type Polygon, type Ring } from './plane.ts';

export const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** By how often a line to the east leaves the ring; holes count like the rest. */
function isInRing(ring: Ring, [east, north]: Point): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [a, b] = [ring[i]!, ring[j]!];
    if (a[1] > north !== b[1] > north && east < ((b[0] - a[0]) * (north - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
  }
  return inside;
}

export const contains = (polygons: Polygon[], point: Point): boolean =>
  polygons.some((polygon) => polygon.reduce((inside, ring) => inside !== isInRing(ring, point), false));

/** m² */
export const areaOf = (polygons: Polygon[]): number =>
  polygons.reduce((sum, polygon) => sum + polygon.reduce((rest, ring, i) => rest + (i === 0 ? 1 : -1) * Math.abs(signedArea(ring)), 0), 0);

export type Side = [Point, Point];
export const sidesOf = (polygons: Polygon[]): Side[] => polygons.flat().flatMap((ring) => ring.map((a, i): Side => [a, ring[(i + 1) % ring.length]!]));

const turn = (a: Point, b: Point, c: Point) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** Where two sides cross, touch or lie on each other; undefined where they do not. */
export function meeting([a, b]: Side, [c, d]: Side): Point | undefined {
  const [abc, abd, cda, cdb] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)];
  if (abc * abd > 0 || cda * cdb > 0) return undefined;
  if (abc === 0 && abd === 0) {
    // On one line: one has an end within the other.
    const within = (p: Point, [from, to]: Side) => (p[0] - from[0]) * (p[0] - to[0]) + (p[1] - from[1]) * (p[1] - to[1]) <= 0;
    return [c, d].find((p) => within(p, [a, b])) ?? [a, b].find((p) => within(p, [c, d]));
  }
  const share = cda / (cda - cdb);
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

/** Where an outline first crosses or touches itself, its rings among each other as well. */
export function crossing(polygons: Polygon[]): Point | undefined {
  const sides = polygons.flat().flatMap((ring, which) => ring.map((a, i) => ({ side: [a, ring[(i + 1) % ring.length]!] as Side, which, i, of: ring.length })));
  for (let one = 0; one < sides.length; ++one) {
    for (let two = one + 1; two < sides.length; ++two) {
      const [p, q] = [sides[one]!, sides[two]!];
      const isNext = p.which === q.which && (q.i === p.i + 1 || (p.i === 0 && q.i === p.of - 1));
      if (isNext && p.of > 2) {
        // Neighbours share a corner; one that folds back onto the other is wrong all the same.
        const [before, corner, after] = q.i === p.i + 1 ? [p.side[0], p.side[1], q.side[1]] : [q.side[0], q.side[1], p.side[1]];
        const folds = turn(before, corner, after) === 0 && (after[0] - corner[0]) * (before[0] - corner[0]) + (after[1] - corner[1]) * (before[1] - corner[1]) > 0;
        if (folds) return corner;
        continue;
      }
      const met = meeting(p.side, q.side);
      if (met) return met;
    }
  }
  return undefined;
}

/** How far from a point to the nearest side; Infinity without any. */
export function distanceToSides(sides: Side[], [x, y]: Point): number {
  let least = Infinity;
  for (const [a, b] of sides) {
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const square = dx * dx + dy * dy;
    const share = square > 0 ? Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / square)) : 0;
    least = Math.min(least, Math.hypot(a[0] + share * dx - x, a[1] + share * dy - y));
  }
  return least;
}

/** How far along a ray it meets each side, the nearest first. `towards` has length 1. */
export function meetings(sides: Side[], from: Point, towards: Point): number[] {
  const found: number[] = [];
  for (const [a, b] of sides) {
    const [sx, sy] = [b[0] - a[0], b[1] - a[1]];
    const across = towards[0] * sy - towards[1] * sx;
    if (across === 0) continue;
    const [px, py] = [a[0] - from[0], a[1] - from[1]];
    const along = (px * sy - py * sx) / across;
    const share = (px * towards[1] - py * towards[0]) / across;
    if (along > 0 && share >= 0 && share < 1) found.push(along);
  }
  return found.sort((one, other) => one - other);
}

/** A point well within the largest of the polygons, for its number: the middle of the widest stretch on one of several lines. */
export function inside(polygons: Polygon[]): Point {
  const largest = [...polygons].sort((a, b) => areaOf([b]) - areaOf([a]))[0] ?? [];
  const norths = (largest[0] ?? []).map((point) => point[1]);
  const [low, high] = [Math.min(...norths), Math.max(...norths)];
  const lines = 11;
  let best: { width: number; point: Point } = { width: -1, point: largest[0]?.[0] ?? [0, 0] };
  for (let line = 1; line < lines; ++line) {
    const north = low + ((high - low) * line) / lines;
    const west = Math.min(...(largest[0] ?? []).map((point) => point[0])) - 1;
    const marks = meetings(sidesOf([largest]), [west, north], [1, 0]);
    for (let i = 0; i + 1 < marks.length; i += 2) {
      // Near the middle a stretch counts for a little more than one as wide at the edge.
      const width = (marks[i + 1]! - marks[i]!) * (1 - Math.abs(line / lines - 0.5));
      if (width > best.width) best = { width, point: [west + (marks[i]! + marks[i + 1]!) / 2, north] };
    }
  }
  return best.point;
}
