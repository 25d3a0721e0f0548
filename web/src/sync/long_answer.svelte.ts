// An answer that the server works out over some time: the last one stays on the device, is shown with its age,
// and gives way to a new one when that has come.
import type { Parameters } from '../engine/engine.ts';
import { askNow } from '../engine/now.ts';
import { LongQuestion, Stopped } from './job.svelte.ts';
import { answer as keptAnswer, keepAnswer } from './kept.ts';
import { season } from './season.svelte.ts';

/** What now is, for a question to the server: as the engine on this device takes it. */
async function asOf(): Promise<Parameters> {
  try {
    return { at: (await askNow<{ at: string }>('sky')).at };
  } catch {
    return {}; // without a forecast there is no sky; the server then takes the last that it knows
  }
}

export class LongAnswer<T> {
  answer = $state.raw<T | undefined>(undefined);
  /** When it came. */
  at = $state(0);
  #revision = $state('');
  wrong = $state('');
  /** Whether what the device has was looked for. */
  looked = $state(false);
  readonly #question: string;
  readonly #key: string;
  #underWay = $state.raw<LongQuestion | undefined>(undefined);
  #tried = '';

  constructor(question: string, key: string) {
    this.#question = question;
    this.#key = key;
  }

  get isAsking(): boolean {
    return this.#underWay !== undefined;
  }
  /** 0 to 1. */
  get share(): number {
    return this.#underWay?.share ?? 0;
  }
  /** Whether something was recorded or forecast since. */
  get isOutdated(): boolean {
    return this.answer !== undefined && this.#revision !== season.revision;
  }

  /** Shows what the device has. */
  async look(): Promise<void> {
    const kept = await keptAnswer(this.#key);
    if (kept && !this.answer) this.#take(kept.text, kept.at, kept.revision);
    this.looked = true;
  }

  /** Asks where the answer is of another season or of another day, and this was not asked for already. */
  askIfOld(parameters: Parameters): void {
    const dayOf = (at: number) => new Date(at).toDateString();
    const now = `${season.revision} ${dayOf(Date.now())}`;
    const isFresh = this.answer !== undefined && !this.isOutdated && dayOf(this.at) === dayOf(Date.now());
    if (isFresh || this.isAsking || this.#tried === now || season.reach !== 'in reach') return;
    this.#tried = now;
    void this.ask(parameters);
  }

  async ask(parameters: Parameters): Promise<void> {
    this.stop();
    const asked = new LongQuestion();
    this.#underWay = asked;
    this.wrong = '';
    const revision = season.revision;
    try {
      const text = await asked.ask(this.#question, { ...(await asOf()), ...parameters });
      this.#take(text, Date.now(), revision);
      await keepAnswer(this.#key, { text, at: this.at, revision });
    } catch (error) {
      if (!(error instanceof Stopped)) this.wrong = (error as Error).message;
    }
    if (this.#underWay === asked) this.#underWay = undefined;
  }

  stop(): void {
    this.#underWay?.stop();
    this.#underWay = undefined;
  }

  #take(text: string, at: number, revision: string): void {
    this.answer = JSON.parse(text) as T;
    this.at = at;
    this.#revision = revision;
  }
}
