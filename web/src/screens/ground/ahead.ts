// In which zone one is, which comes next on the way, and how sure that is.
import type { KeptZone } from '../../engine/ground_answers.ts';
import type { Point, Polygon } from './plane.ts';
import { contains, distance, distanceToSides, meetings, sidesOf } from './polygon.ts';

export interface Area {
  zone: KeptZone;
  polygons: Polygon[];
}
/** A zone, ground of the field that no zone holds, or what lies outside of the field. */
export type Where = Area | 'field' | 'outside';

/** What is drawn by hand may lie over level ground: what stands out goes first. */
export function whereIs(areas: Area[], border: Polygon[] | undefined, point: Point): Where {
  const holding = areas.filter((one) => contains(one.polygons, point));
  const found = holding.find((one) => one.zone.lie !== 'level ground') ?? holding[0];
  if (border && !contains(border, point)) return 'outside';
  return found ?? (border ? 'field' : 'outside');
}

const allSides = (areas: Area[], border: Polygon[] | undefined) => [...areas.flatMap((one) => sidesOf(one.polygons)), ...sidesOf(border ?? [])];

/** What is under this is a corner that one clips, or a gap between two outlines: nobody switches for it. */
const least_m = 2;

/** Along a straight way: how far to where something else begins, and what. */
export function whatComes(areas: Area[], border: Polygon[] | undefined, from: Point, towards: Point): { distance_m: number; where: Where } | undefined {
  const here = whereIs(areas, border, from);
  const marks = meetings(allSides(areas, border), from, towards);
  for (const [i, mark] of marks.entries()) {
    const until = marks[i + 1] ?? mark + 2 * least_m;
    if (until - mark < least_m) continue;
    const middle = (mark + until) / 2;
    const there = whereIs(areas, border, [from[0] + towards[0] * middle, from[1] + towards[1] * middle]);
    if (!isSame(there, here)) return { distance_m: mark, where: there };
  }
  return undefined;
}

export const isSame = (one: Where, other: Where): boolean =>
  typeof one === 'string' || typeof other === 'string' ? one === other : one.zone.number === other.zone.number;

/** What one may be in as well, as far as the position is known; undefined where that is one and the same. */
export function perhaps(areas: Area[], border: Polygon[] | undefined, point: Point, accuracy_m: number): Where | undefined {
  if (distanceToSides(allSides(areas, border), point) > accuracy_m) return undefined;
  const here = whereIs(areas, border, point);
  const ways = 16;
  for (const share of [0.5, 1]) {
    for (let way = 0; way < ways; ++way) {
      const turn = (2 * Math.PI * way) / ways;
      const there = whereIs(areas, border, [point[0] + accuracy_m * share * Math.sin(turn), point[1] + accuracy_m * share * Math.cos(turn)]);
      if (!isSame(there, here)) return there;
    }
  }
  return undefined;
}

/** The direction of travel, from where one was: a receiver that stands has none. */
export class Track {
  #points: { at: Point; accuracy_m: number }[] = [];
  /** Length 1; undefined until one has moved. */
  towards: Point | undefined;

  /** `heading`: degrees clockwise from north, where the device tells. */
  add(at: Point, accuracy_m: number, heading: number | null, speed_m_s: number | null): void {
    this.#points = [...this.#points.slice(-20), { at, accuracy_m }];
    const walks_m_s = 0.3;
    if (heading !== null && !Number.isNaN(heading) && (speed_m_s ?? 0) > walks_m_s) {
      this.towards = [Math.sin((heading * Math.PI) / 180), Math.cos((heading * Math.PI) / 180)];
      return;
    }
    // The newest point that is far enough behind to be told from the receiver's own wander.
    const enough_m = Math.max(3, accuracy_m / 2);
    const before = this.#points.findLast((one) => distance(one.at, at) >= enough_m);
    if (!before) return;
    const far = distance(before.at, at);
    this.towards = [(at[0] - before.at[0]) / far, (at[1] - before.at[1]) / far];
  }
}
