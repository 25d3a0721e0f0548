// Round marks along an axis.
import { figure } from '../../units/units.ts';

/** Of a drawing, in px: one that leaves the screen, or is not laid out yet, has no width of its own. */
export const leastRoom = 200;

export interface Mark {
  at: number;
  text: string;
}

/** Marks from `least` to `most`, at most so many. */
export function marks(least: number, most: number, wanted: number): Mark[] {
  const rough = (most - least) / Math.max(1, wanted);
  if (!(rough > 0)) return [];
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((one) => one * power).find((one) => one >= rough * (1 - 1e-9)) ?? 10 * power;
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const first = Math.ceil(least / step - 1e-9);
  const last = Math.floor(most / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => ({ at: (first + i) * step, text: figure((first + i) * step, decimals) }));
}
