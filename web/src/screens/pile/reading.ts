// What is said of a pile, as this person reads it.
import type { Interval } from '../../engine/answers.ts';
import type { PileHead } from '../../engine/pile_answers.ts';
import { figure, toPeople, unitOf, type Quantity, type System } from '../../units/units.ts';
import { pileWords } from '../../words/en_pile.ts';

/** "57.5 m", "189 ft" */
export function lengthText(metres: number, system: System): string {
  const value = toPeople(metres, 'tape', system);
  const decimals = system === 'us' || Number.isInteger(Math.round(value * 10) / 10) ? 0 : 1;
  return `${figure(value, decimals)} ${unitOf('tape', system)}`;
}

/** "11.5 to 22.6 m" */
export function stretchText(from: number, to: number, system: System): string {
  const [start, end] = [from, to].map((one) => lengthText(one, system)) as [string, string];
  return `${start.split(' ')[0]} to ${end}`;
}

const people = (metric: number, quantity: Quantity, system: System, decimals: number) => `${figure(toPeople(metric, quantity, system), decimals)} ${unitOf(quantity, system)}`;

/** The engine's sentences are metric: their lengths and temperatures in this person's units. */
export function inTheirUnits(words: string, system: System): string {
  if (system === 'metric') return words;
  const number = '(-?\\d+(?:\\.\\d+)?)';
  return words
    .replace(new RegExp(`${number} m\\b(?!\\/)`, 'g'), (_, metres: string) => people(Number(metres), 'tape', system, 0))
    .replace(new RegExp(`${number} cm\\b`, 'g'), (_, cm: string) => people(Number(cm), 'diameter', system, 0))
    .replace(new RegExp(`${number} K\\b`, 'g'), (_, kelvin: string) => people(Number(kelvin), 'temperatureDifference', system, 0))
    .replace(new RegExp(`${number} °C`, 'g'), (_, celsius: string) => people(Number(celsius), 'temperature', system, 0));
}

/** A warning, with the part that it is about as all else names it. */
export function warningText(pile: Pick<PileHead, 'parts'>, warning: { part: number | null; words: string }, system: System): string {
  const part = warning.part === null ? undefined : pile.parts[warning.part];
  const named = part ? warning.words.replace(/from [\d.]+ m to [\d.]+ m/, `from ${stretchText(part.from_m, part.to_m, system)}`) : warning.words;
  return inTheirUnits(named, system);
}

/** "5 (0 to 12)", whole; without a range where it has none. */
export function wholeText(days: Interval): string {
  const [value, low, high] = [days.value, days.low, days.high].map((one) => Math.round(one ?? 0)) as [number, number, number];
  return low === high ? `${value}` : `${value} (${low} to ${high})`;
}

/** "7 of 8": a chance is no finer than the ways that were reckoned. */
export const waysText = (chance: number, ways: number): string => `${Math.round(chance * ways)} of ${ways}`;

/** "72 °F are 22.2 °C" of a reading that no pile has in °C, and that one may well have in °F; undefined for all others. */
export function asFahrenheit(celsius: number, least: number, most: number): number | undefined {
  if (celsius <= most) return undefined;
  const meant = (celsius - 32) / 1.8;
  return meant >= least && meant <= most ? meant : undefined;
}

/** "3.5 m left of the middle, 2.5 m over the ground" */
export function sideText(across: number, height: number, system: System): string {
  const words = pileWords.section;
  const aside = Math.abs(across) < 0.01 ? words.middle : `${exactText(Math.abs(across), system)} ${across < 0 ? words.left : words.right}`;
  return words.place(aside, exactText(height, system));
}
const exactText = (metres: number, system: System) => `${figure(toPeople(metres, 'tape', system), 1)} ${unitOf('tape', system)}`;
