// Areas, lengths and heights of a field, as this person reads them.
import { choice } from '../../units/choice.svelte.ts';
import { figure, toPeople } from '../../units/units.ts';
import type { Interval } from '../../engine/answers.ts';

/** "3.7 ha", "9.3 acre" */
export function areaText(ha: number): string {
  const area = toPeople(ha, 'fieldArea', choice.system);
  return `${figure(area, area < 10 ? 2 : 1)} ${choice.unit('fieldArea')}`;
}

/** "12 m", "39 ft": as fine as somebody who drives can use. */
export function wayText(metres: number): string {
  const length = toPeople(metres, 'tape', choice.system);
  const step = length < 30 ? 1 : length < 200 ? 5 : 10;
  return `${figure(Math.round(length / step) * step, 0)} ${choice.unit('tape')}`;
}

/** "236.4 m": a side that is drawn. */
export const lengthText = (metres: number): string => `${figure(toPeople(metres, 'tape', choice.system), 1)} ${choice.unit('tape')}`;

export function heightText(metres: number, decimals = 1): string {
  return `${figure(toPeople(metres, 'tape', choice.system), decimals)} ${choice.unit('tape')}`;
}

export function moneyParts(gain: Interval): { amount: string; range: string; isLoss: boolean } {
  const shown = choice.show(gain, 'money');
  return { amount: `${shown.value.replace(/^[\u2212]/, '')} ${shown.unit}`, range: shown.interval, isLoss: (gain.value ?? 0) < 0 };
}
