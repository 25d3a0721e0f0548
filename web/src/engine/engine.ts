// The engine compiled to WebAssembly, called from a worker or from a test: text in, text out.
// wasm/engine.cpp is the other side.

export type Files = Record<string, string>;
export type Parameters = Record<string, string>;

export interface Problem {
  kind: string;
  file?: string;
  line?: number;
  field?: string;
  what: string;
  fix: string;
}

/** What the engine could not do, every problem it found. */
export class Refused extends Error {
  readonly problems: Problem[];
  constructor(problems: Problem[]) {
    super(problems.map((p) => `${p.what}; ${p.fix}`).join('\n'));
    this.problems = problems;
  }
}

/** What a file of observations holds, before it is recorded. */
export interface FileReading {
  new: number;
  known: number;
  /** What is new. */
  tables: Files;
}

export interface Answer {
  form: 'json' | 'page';
  text: string;
}

interface Exports {
  memory: WebAssembly.Memory;
  _initialize(): void;
  room(bytes: number): number;
  release(at: number): void;
  open_season(at: number, bytes: number): number;
  add_waiting(at: number, bytes: number): number;
  read_file(at: number, bytes: number): number;
  put_weather(at: number, bytes: number): number;
  read_weather(at: number, bytes: number): number;
  ask(name: number, nameBytes: number, parameters: number, bytes: number): number;
}

const problemsKind = 2;
const headBytes = 8;

/** The one call of a system that it makes, to say its last words: a text by its place and length. */
function imports(memory: () => WebAssembly.Memory): WebAssembly.Imports {
  const say = (_file: number, text: number, _count: number, written: number): number => {
    const view = new DataView(memory().buffer);
    const length = view.getUint32(text + 4, true);
    console.error(new TextDecoder().decode(new Uint8Array(memory().buffer, view.getUint32(text, true), length)).trim());
    view.setUint32(written, length, true);
    return 0;
  };
  return { wasi_snapshot_preview1: { fd_write: say } };
}

export class Engine {
  readonly #calls: Exports;

  private constructor(instance: WebAssembly.Instance) {
    this.#calls = instance.exports as unknown as Exports;
    this.#calls._initialize();
  }

  static async load(module: WebAssembly.Module): Promise<Engine> {
    let memory: WebAssembly.Memory | undefined;
    const instance = await WebAssembly.instantiate(module, imports(() => memory as WebAssembly.Memory));
    memory = (instance.exports as unknown as Exports).memory;
    return new Engine(instance);
  }

  /** Opens a season from its files. Throws Refused. */
  open(files: Files): void {
    this.#with([JSON.stringify(files)], (at, bytes) => this.#calls.open_season(at, bytes));
  }

  /** Adds observations that the server does not have yet, in place of those added before. */
  addWaiting(files: Files): void {
    this.#with([JSON.stringify(files)], (at, bytes) => this.#calls.add_waiting(at, bytes));
  }

  /** Reads a file of observations as somebody has it: what is new of it, as tables. Records nothing. Throws Refused. */
  readFile(files: Files): FileReading {
    return JSON.parse(this.#with([JSON.stringify(files)], (at, bytes) => this.#calls.read_file(at, bytes)).text) as FileReading;
  }

  /** Puts the season's weather, for this season and those opened after it. Throws Refused. */
  putWeather(files: Files): void {
    this.#with([JSON.stringify(files)], (at, bytes) => this.#calls.put_weather(at, bytes));
  }

  /** Reads a file of weather as somebody has it, and keeps nothing. Throws Refused. */
  readWeather(said: Parameters): string {
    return this.#with([JSON.stringify(said)], (at, bytes) => this.#calls.read_weather(at, bytes)).text;
  }

  /** Puts a question. Throws Refused. */
  ask(question: string, parameters: Parameters): Answer {
    return this.#with([question, JSON.stringify(parameters)], (...args) => this.#calls.ask(args[0], args[1], args[2]!, args[3]!));
  }

  #with(texts: string[], call: (...args: [number, number, ...number[]]) => number): Answer {
    const encoder = new TextEncoder();
    const args: number[] = [];
    for (const text of texts) {
      const bytes = encoder.encode(text);
      const at = this.#calls.room(bytes.length);
      new Uint8Array(this.#calls.memory.buffer, at, bytes.length).set(bytes);
      args.push(at, bytes.length);
    }
    const reply = call(...(args as [number, number, ...number[]]));
    for (let i = 0; i < args.length; i += 2) this.#calls.release(args[i]!);
    const head = new DataView(this.#calls.memory.buffer, reply, headBytes);
    const kind = head.getUint32(0, true);
    const length = head.getUint32(4, true);
    const text = new TextDecoder().decode(new Uint8Array(this.#calls.memory.buffer, reply + headBytes, length));
    this.#calls.release(reply);
    if (kind === problemsKind) throw new Refused((JSON.parse(text) as { problems: Problem[] }).problems);
    return { form: kind === 0 ? 'json' : 'page', text };
  }
}
