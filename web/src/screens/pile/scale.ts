// What a section is coloured by. Each look has one hue from light to dark, so that who sees few colours, or
// looks in the sun, still sees the order; numbers stand beside the colours and in each cell that is tapped.
import type { Frame, Picture } from '../../engine/pile_answers.ts';

export type Look = 'celsius' | 'sugar' | 'killed';

/** Lightest and darkest. */
const hues: Record<Look, [string, string]> = {
  celsius: ['#fff1dc', '#6d1f0c'],
  sugar: ['#f6f3e4', '#1f3d17'],
  killed: ['#eef4f8', '#12384a'],
};

export interface Step {
  /** In people's units; the last has no upper end. */
  from: number;
  to: number;
  colour: string;
}

const part = (text: string, i: number) => parseInt(text.slice(1 + 2 * i, 3 + 2 * i), 16);
/** `share` of the way from one colour to another. */
export function between(light: string, dark: string, share: number): string {
  const mixed = [0, 1, 2].map((i) => Math.round(part(light, i) + (part(dark, i) - part(light, i)) * share));
  return `#${mixed.map((one) => one.toString(16).padStart(2, '0')).join('')}`;
}

const mostSteps = 9;
/** Round steps from the least to the most. What is beyond has the colour of the end. */
export function steps(look: Look, least: number, most: number): Step[] {
  const span = Math.max(most - least, 1e-6);
  const power = 10 ** Math.floor(Math.log10(span / mostSteps));
  const width = [1, 2, 5, 10, 20].map((one) => one * power).find((one) => Math.ceil(most / one - 1e-9) - Math.floor(least / one + 1e-9) <= mostSteps) ?? span;
  const first = Math.floor(least / width + 1e-9);
  const count = Math.max(1, Math.ceil(most / width - 1e-9) - first);
  const [light, dark] = hues[look];
  return Array.from({ length: count }, (_, i) => ({
    from: (first + i) * width,
    to: (first + i + 1) * width,
    colour: between(light, dark, count > 1 ? i / (count - 1) : 0),
  }));
}

export const colourOf = (all: Step[], value: number): string => (all.findLast((one) => value >= one.from) ?? all[0])?.colour ?? '#fff';

/** What a look shows of a cell: °C, or % of what was there. */
export function metricOf(frame: Frame, look: Look, cell: number): number {
  if (look === 'celsius') return frame.celsius[cell] ?? 0;
  return look === 'sugar' ? 100 * (1 - (frame.sugar_left[cell] ?? 1)) : 100 * (frame.killed[cell] ?? 0);
}

export interface Extent {
  /** Nearly all lies between these; a single cell on a single day does not stretch the scale. */
  least: number;
  most: number;
  isBelow: boolean;
  isAbove: boolean;
}
const few = 0.01;
/** Over all cells and days, so that a colour means the same on each of them. */
export function extent(picture: Picture, look: Look): Extent {
  const values = picture.frames.flatMap((frame) => picture.has_beet.flatMap((has, cell) => (has ? [metricOf(frame, look, cell)] : []))).sort((a, b) => a - b);
  const at = (share: number) => values[Math.round(share * (values.length - 1))] ?? 0;
  const least = look === 'celsius' ? at(few) : 0;
  const most = Math.max(at(1 - few), look === 'celsius' ? least + 1 : 1);
  return { least, most, isBelow: look === 'celsius' && at(0) < least, isAbove: at(1) > most };
}
