// An answer that the server works out over some time: the last one stays on the device, is shown with its age,
// and gives way to a new one when that has come.
import type { Parameters } from '../engine/engine.ts';
import { askNow } from '../engine/now.ts';
import { LongQuestion, Stopped } from './job.svelte.ts';
import { answer as keptAnswer, keepAnswer, type KeptAnswer } from './kept.ts';
import { season } from './season.svelte.ts';
import type { TableName } from './tables.ts';

/** What now is, for a question to the server: as the engine on this device takes it. */
async function asOf(): Promise<Parameters> {
  try {
    return { at: (await askNow<{ at: string }>('sky')).at };
  } catch {
    return {}; // without a forecast there is no sky; the server then takes the last that it knows
  }
}

/** Rises when answers get another shape: what an earlier version of the app kept is then not shown. */
const form = 1;

export class LongAnswer<T> {
  answer = $state.raw<T | undefined>(undefined);
  /** When it came. */
  at = $state(0);
  #revision = $state('');
  #stamp = $state('');
  wrong = $state('');
  /** Whether what the device has was looked for. */
  looked = $state(false);
  readonly #question: string;
  readonly #key: string;
  readonly #tables: readonly TableName[];
  #underWay = $state.raw<LongQuestion | undefined>(undefined);
  #tried = '';

  /** `tables`: what the answer mostly follows from; with those, and the weather, it is asked for anew. */
  constructor(question: string, key: string, tables: readonly TableName[]) {
    this.#question = question;
    this.#key = key;
    this.#tables = tables;
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
    if (kept?.form === form && !this.answer) this.#take(kept);
    this.looked = true;
  }

  /**
   * Asks where the answer is of other tables, other weather or another day, and this was not asked for already. Not
   * with each revision: fields are counted all day, and that changes little here for much work.
   */
  askIfOld(parameters: Parameters): void {
    const dayOf = (at: number) => new Date(at).toDateString();
    const stamp = season.stampOf(this.#tables);
    const now = `${stamp} ${dayOf(Date.now())}`;
    const isFresh = this.answer !== undefined && this.#stamp === stamp && dayOf(this.at) === dayOf(Date.now());
    if (isFresh || this.isAsking || this.#tried === now || season.reach !== 'in reach') return;
    this.#tried = now;
    void this.ask(parameters);
  }

  async ask(parameters: Parameters): Promise<void> {
    this.stop();
    const asked = new LongQuestion();
    this.#underWay = asked;
    this.wrong = '';
    const about = { revision: season.revision, stamp: season.stampOf(this.#tables) };
    try {
      const text = await asked.ask(this.#question, { ...(await asOf()), ...parameters });
      const answer = { ...about, form, text, at: Date.now() };
      this.#take(answer);
      await keepAnswer(this.#key, answer);
    } catch (error) {
      if (!(error instanceof Stopped)) this.wrong = (error as Error).message;
    }
    if (this.#underWay === asked) this.#underWay = undefined;
  }

  stop(): void {
    this.#underWay?.stop();
    this.#underWay = undefined;
  }

  #take(kept: KeptAnswer): void {
    this.answer = JSON.parse(kept.text) as T;
    this.at = kept.at;
    this.#revision = kept.revision;
    this.#stamp = kept.stamp;
  }
}
