// The tablet's own position, for as long as somebody looks; the screen stays on meanwhile.
import type { Place } from '../../engine/ground_answers.ts';

export type Trouble = '' | 'refused' | 'noFix' | 'noReceiver';

export interface Fix {
  place: Place;
  accuracy_m: number;
  heading: number | null;
  speed_m_s: number | null;
  at: number;
}

export class Position {
  fix = $state.raw<Fix | undefined>(undefined);
  trouble = $state<Trouble>('');
  runs = $state(false);
  isAwake = $state(false);
  #watch: number | undefined;
  #lock: WakeLockSentinel | undefined;

  start(): void {
    if (this.runs) return;
    this.runs = true;
    this.trouble = '';
    if (!('geolocation' in navigator)) {
      this.trouble = 'noReceiver';
      return;
    }
    this.#watch = navigator.geolocation.watchPosition(
      ({ coords, timestamp }) => {
        this.trouble = '';
        this.fix = { place: [coords.longitude, coords.latitude], accuracy_m: coords.accuracy, heading: coords.heading, speed_m_s: coords.speed, at: timestamp };
      },
      (error) => (this.trouble = error.code === error.PERMISSION_DENIED ? 'refused' : 'noFix'),
      { enableHighAccuracy: true, maximumAge: 1000, timeout: 60_000 },
    );
    void this.#keepAwake();
    document.addEventListener('visibilitychange', this.#seen);
  }
  stop(): void {
    this.runs = false;
    this.fix = undefined;
    this.trouble = '';
    if (this.#watch !== undefined) navigator.geolocation.clearWatch(this.#watch);
    this.#watch = undefined;
    document.removeEventListener('visibilitychange', this.#seen);
    void this.#lock?.release();
    this.#lock = undefined;
    this.isAwake = false;
  }

  // A browser takes the lock away when it is put aside; whoever comes back has it again.
  readonly #seen = () => {
    if (document.visibilityState === 'visible') void this.#keepAwake();
  };
  async #keepAwake(): Promise<void> {
    try {
      const lock = await navigator.wakeLock?.request('screen');
      if (!lock) return;
      if (!this.runs) return void lock.release();
      this.#lock = lock;
      this.isAwake = true;
      lock.addEventListener('release', () => (this.isAwake = false));
    } catch {
      // A battery that is nearly empty, perhaps: the screen then goes dark as it always does.
    }
  }
}
