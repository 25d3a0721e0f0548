// An outline that is being drawn or corrected: its corners, each step back, and what is wrong with it.
import type { Point, Polygon } from './plane.ts';
import { areaOf, crossing, distance, meeting, type Side } from './polygon.ts';

export type Fault = 'few' | 'crosses' | 'closes' | undefined;

export interface Outline {
  /** From an empty sheet: corners are set one after another, and the last side closes by itself. */
  isNew: boolean;
  /** The last is how it is now. */
  steps: Polygon[][];
  /** The corner that a finger took hold of. */
  held: Point | undefined;
}

export const begun = (polygons: Polygon[]): Outline => ({ isNew: polygons.length === 0, steps: [polygons], held: undefined });
export const now = (outline: Outline): Polygon[] => outline.steps.at(-1)!;
const step = (outline: Outline, polygons: Polygon[]): Outline => ({ ...outline, steps: [...outline.steps, polygons], held: undefined });

export const withCorner = (outline: Outline, at: Point): Outline => {
  const corners = now(outline)[0]?.[0] ?? [];
  const isThere = corners.length > 0 && distance(corners.at(-1)!, at) < 0.01;
  return isThere ? outline : step(outline, [[[...corners, at]]]);
};
export const moved = (outline: Outline, polygons: Polygon[]): Outline => step(outline, polygons);
export const undone = (outline: Outline): Outline => (outline.steps.length > 1 ? { ...outline, steps: outline.steps.slice(0, -1), held: undefined } : outline);

export const heldAt = (outline: Outline, at: Point, reach_m: number): Outline => {
  const near = now(outline)
    .flat(2)
    .map((corner) => ({ corner, far: distance(corner, at) }))
    .sort((a, b) => a.far - b.far)[0];
  return { ...outline, held: near && near.far <= reach_m ? near.corner : undefined };
};
/** A ring keeps three corners; a hole that would have fewer goes. */
export const withoutHeld = (outline: Outline): Outline => {
  const { held } = outline;
  if (!held) return outline;
  const least = outline.isNew ? 0 : 3;
  const polygons = now(outline).map((polygon) => polygon.map((ring) => ring.filter((corner) => corner !== held)).filter((ring, i) => i === 0 || ring.length >= 3));
  return polygons.some((polygon) => polygon[0]!.length < least) ? outline : step(outline, polygons);
};

/** `at`: where it crosses itself. */
export function faultOf(outline: Outline): { fault: Fault; at: Point | undefined } {
  const polygons = now(outline);
  const corners = polygons[0]?.[0] ?? [];
  if (corners.length < 3) return { fault: 'few', at: undefined };
  const drawn = outline.isNew ? wayCrossing(corners) : undefined;
  if (drawn) return { fault: 'crosses', at: drawn };
  const at = crossing(polygons);
  return { fault: at && (outline.isNew ? 'closes' : 'crosses'), at };
}

/** Where the sides that were drawn cross each other, the one that will close them aside. */
function wayCrossing(corners: Point[]): Point | undefined {
  const sides = corners.slice(0, -1).map((corner, i): Side => [corner, corners[i + 1]!]);
  for (let one = 0; one < sides.length; ++one) {
    for (let two = one + 2; two < sides.length; ++two) {
      const met = meeting(sides[one]!, sides[two]!);
      if (met) return met;
    }
  }
  return undefined;
}

export const area_m2 = (outline: Outline): number => ((now(outline)[0]?.[0]?.length ?? 0) < 3 ? 0 : areaOf(now(outline)));
export const cornersOf = (outline: Outline): number => now(outline).flat(2).length;
/** The side that was drawn last; undefined before there is one. */
export function lastSide(outline: Outline): number | undefined {
  const corners = now(outline)[0]?.[0] ?? [];
  return outline.isNew && corners.length > 1 ? distance(corners.at(-2)!, corners.at(-1)!) : undefined;
}
