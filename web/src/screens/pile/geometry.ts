// A pile's section and length as numbers: which cell lies where, what a shape holds, what a load fills.
import type { Picture } from '../../engine/pile_answers.ts';
import { toMetric, type System } from '../../units/units.ts';

export interface Shape {
  base: number;
  top: number;
  height: number;
}

/** The middle of a cell: across from the middle line, and over the ground [m]. */
export function placeOf(picture: Picture, cell: number): { across: number; height: number } {
  const column = cell % picture.across;
  const row = Math.floor(cell / picture.across);
  return { across: (column + 0.5 - picture.across / 2) * picture.cell_across_m, height: (row + 0.5) * picture.cell_up_m };
}

/** The cell with beets that is nearest to a place; -1 where there is none at all. */
export function cellAt(picture: Picture, across: number, height: number): number {
  let best = -1;
  let least = Infinity;
  picture.has_beet.forEach((has, cell) => {
    if (!has) return;
    const at = placeOf(picture, cell);
    const way = Math.hypot(at.across - across, at.height - height);
    if (way < least) [best, least] = [cell, way];
  });
  return best;
}

/** The next cell that way; the same where there are no beets. */
export function neighbour(picture: Picture, cell: number, columns: number, rows: number): number {
  const column = (cell % picture.across) + columns;
  const row = Math.floor(cell / picture.across) + rows;
  if (column < 0 || column >= picture.across || row < 0 || row >= picture.up) return cell;
  const next = row * picture.across + column;
  return picture.has_beet[next] ? next : cell;
}

const day_ms = 86_400_000;
/** Of days written 2031-12-04. */
export const daysBetween = (from: string, to: string): number => Math.round((Date.parse(to) - Date.parse(from)) / day_ms);

/** Which of these days is nearest. */
export function nearest(days: string[], day: string): number {
  return days.reduce((best, one, i) => (Math.abs(daysBetween(one, day)) < Math.abs(daysBetween(days[best] ?? one, day)) ? i : best), 0);
}

/** The slope of its flanks [°]; 90 between walls. */
export const slope = ({ base, top, height }: Shape): number => (Math.atan2(height, (base - top) / 2) * 180) / Math.PI;
/** [m2] */
export const sectionArea = ({ base, top, height }: Shape): number => ((base + top) / 2) * height;

/** What a metre of length holds, by the bulk density of beets in a pile: common practice, to propose a length [t/m3]. */
const bulk = 0.65;
/** How long a load of so many tonnes lies in a pile, to a tenth of a metre; at least that of what tips it [m]. */
export function lengthOf(tonnes: number, shape: Shape): number {
  const widestTip = 3;
  return Math.max(widestTip, Math.round((tonnes / (bulk * sectionArea(shape))) * 10) / 10);
}

/** What a tape is read to, in this person's units: 0.1 m, or half a foot [m]. */
export const tapeStep = (system: System): number => toMetric(system === 'us' ? 0.5 : 0.1, 'tape', system);
/** Rounded to a step, without the dust that this leaves. */
const stepped = (value: number, step: number) => Number((Math.round(value / step) * step).toPrecision(12));

/** So long from about a place, inside the pile [m]. */
export function stretchAt(middle: number, length: number, pile: number, step = 0.1): { from: number; to: number } {
  const long = Math.min(length, pile);
  const from = Math.min(Math.max(0, middle - long / 2), pile - long);
  return { from: stepped(from, step), to: Math.min(pile, stepped(from + long, step)) };
}

/** The shape with one of its corners pulled: what would turn it inside out is held back. */
export function pulled(shape: Shape, handle: 'base' | 'top' | 'height', pull: number, step = 0.1): Shape {
  const to = stepped(pull, step);
  if (handle === 'height') return { ...shape, height: Math.min(15, Math.max(0.3, to)) };
  if (handle === 'top') return { ...shape, top: Math.min(shape.base, Math.max(0, to)) };
  const base = Math.min(120, Math.max(1, to));
  return { ...shape, base, top: Math.min(shape.top, base) };
}

/** What so much length of a shape holds [t]. */
export const holds = (shape: Shape, length: number): number => bulk * sectionArea(shape) * length;
