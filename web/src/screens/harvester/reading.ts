// A control's values and what comes out of a harvester, as this person reads them.
import type { FigureNow, Reading } from '../../engine/harvester_answers.ts';
import { choice } from '../../units/choice.svelte.ts';
import { decimalsFor, figure, toPeople, type Quantity } from '../../units/units.ts';
import { harvesterWords as words } from '../../words/en_harvester.ts';

/** By the unit in which a control is known. */
const quantityOfUnit: Record<string, { quantity: Quantity; metric: number; us: number }> = {
  mm: { quantity: 'waterDepth', metric: 0, us: 2 },
  'km/h': { quantity: 'speed', metric: 1, us: 1 },
  rpm: { quantity: 'turns', metric: 0, us: 0 },
  'm/s': { quantity: 'flowSpeed', metric: 1, us: 1 },
  m: { quantity: 'tape', metric: 1, us: 1 },
  N: { quantity: 'force', metric: 0, us: 0 },
};
export const quantityIn = (unit: string): Quantity => quantityOfUnit[unit]?.quantity ?? 'count';

/** SI in the unit's own: the engine says a control's limits in SI. */
const siOfUnit: Record<string, number> = { mm: 1e-3, 'km/h': 1 / 3.6, rpm: 1 / 60, 'm/s': 1, m: 1, N: 1 };
export const fromSi = (si: number, unit: string): number => si / (siOfUnit[unit] ?? 1);

export function amountText(amount: number, unit: string): string {
  const known = quantityOfUnit[unit];
  if (!known) return `${amount}`;
  const decimals = choice.system === 'us' ? known.us : known.metric;
  return `${figure(toPeople(amount, known.quantity, choice.system), decimals)} ${choice.unit(known.quantity)}`;
}

/** "85 mm", "3.35 in", "tined" */
export const plainText = (reading: Reading): string => (reading.amount === null ? (words.set.on[reading.text] ?? reading.text) : amountText(reading.amount, reading.unit));
export const displayText = (reading: Reading): string => (reading.display === null ? '' : String(Number(reading.display.toPrecision(6))));

/** The machine's own number first, where it has one: that is what a hand sets. */
export function valueText(reading: Reading): string {
  const shown = displayText(reading);
  return shown ? words.onDisplay(shown, plainText(reading)) : plainText(reading);
}

const quantityOfFigure: Record<string, Quantity> = { '%': 'share', 't/ha': 'beetPerArea', cm2: 'skin', 'ha/h': 'areaRate', 'L/ha': 'fuelPerArea' };
export const figureQuantity = (unit: string): Quantity => quantityOfFigure[unit] ?? 'count';

/** The engine's words, with the 2 cm at which a tail or a stalk counts in this person's units. */
export const said = (engineWords: string): string => (choice.system === 'us' ? engineWords.replace('2 cm', '0.8 in') : engineWords);

/** No beet in ten thousand is worth a third decimal. */
const mostDecimals = 2;
/** Where no interval is known to go by: two digits that count. */
const decimalsOf = (value: number): number => (Math.abs(value) < 3 ? 2 : Math.abs(value) < 30 ? 1 : 0);

/** "42 %", and its interval where there is one: "31 to 52". */
export function figureText(one: FigureNow): { value: string; interval: string } {
  const quantity = figureQuantity(one.unit);
  if (one.low !== undefined && one.high !== undefined && one.low < one.high) {
    const [value, low, high] = [one.value, one.low, one.high].map((amount) => toPeople(amount, quantity, choice.system)) as [number, number, number];
    const decimals = Math.min(mostDecimals, decimalsFor(low, high));
    const smallest = 10 ** -mostDecimals;
    if (Math.max(Math.abs(low), Math.abs(high)) < smallest / 2) return { value: words.under(`${smallest} ${choice.unit(quantity)}`), interval: '' };
    return { value: `${figure(value, decimals)} ${choice.unit(quantity)}`, interval: `${figure(low, decimals)} ${words.set.to} ${figure(high, decimals)}` };
  }
  const value = toPeople(one.value, quantity, choice.system);
  return { value: `${figure(value, decimalsOf(value))} ${choice.unit(quantity)}`, interval: '' };
}

/** "136 EUR/ha (64 to 239)" */
export function moneyText(estimate: { value: number | null; low: number | null; high: number | null }): string {
  const shown = choice.show(estimate, 'moneyPerArea');
  return `${shown.value} ${shown.unit}${shown.interval ? ` (${shown.interval})` : ''}`;
}

/** Of what comes out, only this is the better the more it is. */
export const isBetter = (key: string, from: number, to: number): boolean => (key === 'area_rate' ? to > from : to < from);
