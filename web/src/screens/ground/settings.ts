// How the machine is set in a zone, and what changes from one to the next.
import type { KeptZone } from '../../engine/ground_answers.ts';
import type { Reading } from '../../engine/harvester_answers.ts';

export const levelOf = (zones: KeptZone[]): KeptZone | undefined => zones.find((one) => one.lie === 'level ground');

/** All that is set in a zone: as on level ground, but for what the zone has otherwise. Without a zone, as on level ground. */
export function allIn(zones: KeptZone[], zone: KeptZone | undefined): Reading[] {
  const level = levelOf(zones)?.controls ?? [];
  const own = zone?.controls ?? [];
  return [...level.map((one) => own.find((other) => other.control === one.control) ?? one), ...own.filter((one) => !level.some((other) => other.control === one.control))];
}

/** The settings that are switched anywhere in the field: what an operator has to have in sight. */
export function switchedIn(zones: KeptZone[], zone: KeptZone | undefined): Reading[] {
  const switched = new Set(zones.filter((one) => one.lie !== 'level ground').flatMap((one) => one.controls.map((control) => control.control)));
  return allIn(zones, zone).filter((one) => switched.has(one.control));
}

/** What has to be set anew on the way from one to the other. */
export function changesBetween(zones: KeptZone[], from: KeptZone | undefined, to: KeptZone | undefined): { from: Reading | undefined; to: Reading }[] {
  const before = allIn(zones, from);
  return allIn(zones, to).flatMap((now) => {
    const was = before.find((one) => one.control === now.control);
    return was?.value === now.value ? [] : [{ from: was, to: now }];
  });
}
