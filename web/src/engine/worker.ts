// Holds the engine on a thread of its own, so that reckoning never holds up a thumb.
import wasmUrl from '../../../build/wasm/engine.wasm?url';
import { Engine, Refused, type Files, type Parameters, type Problem } from './engine.ts';

export type Call =
  | { what: 'open'; files: Files }
  | { what: 'waiting'; files: Files }
  | { what: 'read'; files: Files }
  | { what: 'weather'; files: Files }
  | { what: 'read weather'; said: Parameters }
  | { what: 'ask'; question: string; parameters: Parameters }
  /** Asks of the season with some files in other words, without keeping them. */
  | { what: 'try'; files: Files; question: string; parameters: Parameters };
export type Reply = { id: number; text: string } | { id: number; problems: Problem[] };

let module: Promise<WebAssembly.Module> | undefined;
let engine: Promise<Engine> | undefined;
let trial: Promise<Engine> | undefined;
let opened: Files = {};

const compile = () => (module ??= WebAssembly.compileStreaming(fetch(wasmUrl)));
const load = async () => Engine.load(await compile());

async function answer(call: Call): Promise<string> {
  if (call.what === 'try') {
    const other = await (trial ??= load());
    other.open({ ...opened, ...call.files });
    return other.ask(call.question, call.parameters).text;
  }
  const own = await (engine ??= load());
  switch (call.what) {
    case 'open':
      own.open(call.files);
      opened = call.files;
      return '';
    case 'waiting':
      own.addWaiting(call.files);
      return '';
    case 'read':
      return JSON.stringify(own.readFile(call.files));
    case 'weather':
      own.putWeather(call.files);
      return '';
    case 'read weather':
      return own.readWeather(call.said);
    case 'ask':
      return own.ask(call.question, call.parameters).text;
  }
}

// One call after another: a question put after a season was opened is of that season.
let turn: Promise<void> = Promise.resolve();
addEventListener('message', (event: MessageEvent<{ id: number; call: Call }>) => {
  const { id, call } = event.data;
  turn = turn.then(async () => {
    try {
      postMessage({ id, text: await answer(call) } satisfies Reply);
    } catch (error) {
      const problems =
        error instanceof Refused
          ? error.problems
          : [{ kind: 'outside', what: `the engine failed: ${String(error)}`, fix: 'close the app and open it again' }];
      postMessage({ id, problems } satisfies Reply);
    }
  });
});
