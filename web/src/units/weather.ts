// Temperatures and depths of rain as people read them.
import { figure, type System } from './units.ts';

const mmPerInch = 25.4;

export const degrees = (celsius: number, system: System): number => (system === 'us' ? celsius * 1.8 + 32 : celsius);
export const degreeUnit = (system: System): string => (system === 'us' ? '°F' : '°C');

/** "8 °C" */
export function temperature(celsius: number | null, system: System): string {
  return celsius === null ? '–' : `${figure(degrees(celsius, system), 0)} ${degreeUnit(system)}`;
}

export const rainIn = (mm: number, system: System): number => (system === 'us' ? mm / mmPerInch : mm);
export const rainUnit = (system: System): string => (system === 'us' ? 'in' : 'mm');

/** "3 mm", "0.12 in" */
export function depth(mm: number | null, system: System): string {
  return mm === null ? '' : `${figure(rainIn(mm, system), system === 'us' ? 2 : mm > 0 && mm < 1 ? 1 : 0)} ${rainUnit(system)}`;
}
