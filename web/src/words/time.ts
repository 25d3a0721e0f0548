// Times as people say them.

import { plural } from './en.ts';

const minute_ms = 60_000;
const hour_ms = 60 * minute_ms;
const day_ms = 24 * hour_ms;

export function ago(then: number, now: number = Date.now()): string {
  const passed = now - then;
  const many = (n: number, unit: string) => `${plural(n, unit)} ago`;
  if (passed < minute_ms) return 'just now';
  if (passed < hour_ms) return many(Math.floor(passed / minute_ms), 'minute');
  if (passed < day_ms) return many(Math.floor(passed / hour_ms), 'hour');
  return many(Math.floor(passed / day_ms), 'day');
}

/** "2031-10-04 09:30" in this device's time. */
export function clock(at: string | number): string {
  const date = new Date(at);
  const two = (n: number) => String(n).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())} ${two(date.getHours())}:${two(date.getMinutes())}`;
}

/** "Thu 4 Dec", of a day written 2031-12-04. */
export function dayName(day: string): string {
  return new Intl.DateTimeFormat('en-GB', { weekday: 'short', day: 'numeric', month: 'short', timeZone: 'UTC' }).format(new Date(`${day}T12:00:00Z`)).replace(',', '');
}

/** "06:00" on a clock so many minutes ahead of UTC; midnight as an end is 24:00. */
export function timeOfDay(at: string, clockMinutes: number, as: 'begin' | 'end' = 'begin'): string {
  const text = new Date(Date.parse(at) + clockMinutes * minute_ms).toISOString().slice(11, 16);
  return as === 'end' && text === '00:00' ? '24:00' : text;
}
