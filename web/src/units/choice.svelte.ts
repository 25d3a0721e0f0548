// What this person reads: units, sounds. Chosen once, kept on the device.
import { season } from '../sync/season.svelte.ts';
import { shown, unitOf, type Quantity, type Shown, type System } from './units.ts';

const stored = (name: string): string | null => {
  try {
    return localStorage.getItem(name);
  } catch {
    return null; // a browser that keeps nothing still counts
  }
};

class Choice {
  #system = $state<System | undefined>((stored('units') as System | null) ?? undefined);
  #signals = $state(stored('signals') !== 'off');

  #keepsMetadata = $state(stored('metadata') === 'keep');

  get system(): System {
    return this.#system ?? season.facts.units;
  }
  set system(system: System) {
    this.#system = system;
    localStorage.setItem('units', system);
  }
  /** Whether a recorded beet is felt and heard. */
  get signals(): boolean {
    return this.#signals;
  }
  set signals(on: boolean) {
    this.#signals = on;
    localStorage.setItem('signals', on ? 'on' : 'off');
  }
  /** Whether photographs keep what the camera wrote beside them: where, when, with what. */
  get keepsMetadata(): boolean {
    return this.#keepsMetadata;
  }
  set keepsMetadata(on: boolean) {
    this.#keepsMetadata = on;
    localStorage.setItem('metadata', on ? 'keep' : 'strip');
  }  #worksAtNight = $state(stored('nights') !== 'no');
  /** Whether this crew lifts in the dark. */
  get worksAtNight(): boolean {
    return this.#worksAtNight;
  }
  set worksAtNight(on: boolean) {
    this.#worksAtNight = on;
    localStorage.setItem('nights', on ? 'yes' : 'no');
  }
  show(estimate: Parameters<typeof shown>[0], quantity: Quantity): Shown {
    return shown(estimate, quantity, this.system, season.facts.currency);
  }
  unit(quantity: Quantity): string {
    return unitOf(quantity, this.system, season.facts.currency);
  }
}

export const choice = new Choice();
