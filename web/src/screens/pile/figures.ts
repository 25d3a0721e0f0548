// Figures of a pile in this person's units, and what is asked of the server at first and on demand.
import type { Interval } from '../../engine/answers.ts';
import type { Parameters } from '../../engine/engine.ts';
import { choice } from '../../units/choice.svelte.ts';
import { decimalsFor, figure, toPeople, type Quantity } from '../../units/units.ts';

/** A first answer within seconds. */
export const quick: Parameters = { detail: 'coarse', members: '8' };
/** One that is worth waiting for, when somebody wants it. */
export const fine: Parameters = { detail: 'usual', members: '16' };

/** What becomes of a pile follows mostly from these. */
export const tables = ['destinations.csv', 'piles.csv', 'fans.csv', 'covers.csv', 'probes.csv', 'removals.csv', 'loads.csv', 'temperatures.csv', 'constants.csv'] as const;

export interface Text {
  value: string;
  interval: string;
}
function text(estimate: Interval, quantity: Quantity, mostDecimals: number): Text {
  if (estimate.value === null) return { value: '–', interval: '' };
  const [value, low, high] = [estimate.value, estimate.low ?? estimate.value, estimate.high ?? estimate.value].map((one) => toPeople(one, quantity, choice.system)) as [number, number, number];
  const decimals = low === high ? mostDecimals : Math.min(mostDecimals, Math.max(0, decimalsFor(low, high) - 1));
  const [least, most] = [figure(low, decimals), figure(high, decimals)];
  return { value: `${figure(value, decimals)} ${choice.unit(quantity)}`, interval: least === most ? '' : `${least} to ${most}` };
}

/** "16 %" and "7 to 37" */
export const percentText = (estimate: Interval): Text => text(estimate, 'share', 1);
export const degreesText = (estimate: Interval): Text => text(estimate, 'temperature', 1);

/** So many digits that count: 3298 as 3300. */
export const digits = (value: number, wanted: number) => {
  const power = 10 ** Math.max(0, Math.floor(Math.log10(Math.abs(value) || 1)) + 1 - wanted);
  return figure(Math.round(value / power) * power, 0);
};
/** In a sentence there are several. */
const loads = () => choice.unit('load').replace(/ton$/, 'tons');
/** "5610 t": three digits that count. */
export const massText = (tonnes: number): string => {
  const value = toPeople(tonnes, 'load', choice.system);
  return `${value < 100 ? figure(value, 1) : digits(value, 3)} ${loads()}`;
};
export const massRange = (estimate: Interval): Text => {
  const [value, low, high] = [estimate.value ?? 0, estimate.low ?? 0, estimate.high ?? 0].map((one) => toPeople(one, 'load', choice.system)) as [number, number, number];
  return { value: `${digits(value, 2)} ${loads()}`, interval: low === high ? '' : `${digits(low, 2)} to ${digits(high, 2)}` };
};
/** "101 000 EUR (47 000 to 234 000)": no more digits than its range bears. */
export function moneyText(estimate: Interval): string {
  const { value, interval } = moneyRange(estimate);
  return interval ? `${value} (${interval})` : value;
}
export function moneyRange(estimate: Interval, sign: 1 | -1 = 1): Text {
  const all = [estimate.value ?? 0, estimate.low ?? 0, estimate.high ?? 0].map((one) => sign * one) as [number, number, number];
  const [value, a, b] = all;
  const [low, high] = [Math.min(a, b), Math.max(a, b)];
  return { value: `${digits(value, 3)} ${choice.unit('money')}`, interval: low === high ? '' : `${digits(low, 2)} to ${digits(high, 2)}` };
}
