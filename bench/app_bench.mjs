// The app in Chromium: what a first load fetches, how long after a touch the screen answers on a processor
// slowed to a quarter, how long a step of the slider takes to be reckoned.
// Usage: node app_bench.mjs <folder of the built programs>
import { readdirSync, readFileSync } from 'node:fs';
import { stripTypeScriptTypes } from 'node:module';
import { demoSeason, launch, serve, sizes } from '../tests/web/lib.mjs';

const [bin] = process.argv.slice(2);
const slowdown = 4;
const demo = demoSeason(bin);
const server = await serve(bin, demo.season, { args: ['--open'] });
const browser = await launch();
const percentile = (list, share) => [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(share * list.length))];
const told = (list) => `median ${percentile(list, 0.5).toFixed(0)} ms, 98 % ${percentile(list, 0.98).toFixed(0)} ms, most ${Math.max(...list).toFixed(0)} ms (${list.length})`;

try {
  const context = await browser.newContext({ viewport: sizes.phone, hasTouch: true });
  const page = await context.newPage();
  const cdp = await context.newCDPSession(page);
  const start = performance.now();
  await page.goto(server.url);
  await page.getByText('In step with the server').waitFor();
  const loaded = performance.now() - start;
  console.log(`first load                 ${loaded.toFixed(0)} ms to the season on screen`);

  // A touch to the next paint, as the browser itself measures it.
  await page.evaluate(() => {
    globalThis.touches = [];
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) if (entry.interactionId) globalThis.touches.push(entry.duration);
    }).observe({ type: 'event', durationThreshold: 16, buffered: true });
  });
  const go = (hash) => page.evaluate((to) => (location.hash = to), hash);
  const touches = async (run) => {
    await page.evaluate(() => (globalThis.touches.length = 0));
    await run();
    await page.waitForTimeout(500);
    // Those under 16 ms are not told by the browser.
    return page.evaluate(() => [...globalThis.touches]);
  };
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
  await go('#/count/Upper%20Sallow');
  await page.locator('[data-test=start]').click();
  const beets = 30;
  const counting = await touches(async () => {
    for (let i = 0; i < beets; ++i) {
      await page.getByRole('button', { name: i % 4 ? 'Cut right' : 'Too deep', exact: true }).tap();
      await page.getByRole('button', { name: i % 3 ? 'tail on' : '2 to 4 cm', exact: true }).tap();
    }
  });
  console.log(`counting, a tap to paint   ${counting.length ? told(counting) : 'none over 16 ms'}, processor slowed ${slowdown} times`);
  await go('#/fields/Upper%20Sallow');
  await page.locator('#days').waitFor();
  const sliding = await touches(async () => {
    await page.locator('#days').focus();
    for (let i = 0; i < 40; ++i) await page.keyboard.press('ArrowRight');
  });
  console.log(`slider, a step to paint    ${sliding.length ? told(sliding) : 'none over 16 ms'}, processor slowed ${slowdown} times`);

  await cdp.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  const reckoned = await page.evaluate(async () => {
    const slider = document.querySelector('#days');
    const shown = () => document.querySelector('dl.figures').textContent;
    const times = [];
    for (let day = 10; day < 60; ++day) {
      const before = shown();
      const from = performance.now();
      slider.value = String(day);
      slider.dispatchEvent(new Event('input', { bubbles: true }));
      while (shown() === before && performance.now() - from < 2000) await new Promise((next) => setTimeout(next));
      times.push(performance.now() - from);
    }
    return times;
  });
  console.log(`slider, figures reckoned   ${told(reckoned)}`);

  // From a check to advice. The app's engine runs in a worker, which the browser cannot be told to slow: here the
  // same engine runs on the page's own thread.
  const bare = await browser.newContext({ bypassCSP: true });
  const thread = await bare.newPage();
  await thread.goto(server.url);
  const slowing = await bare.newCDPSession(thread);
  const source = stripTypeScriptTypes(readFileSync(new URL('../web/src/engine/engine.ts', import.meta.url), 'utf8'), { mode: 'transform' });
  const prepared = await thread.evaluate(
    async ([module, pathOfEngine]) => {
      const { Engine } = await import(`data:text/javascript;base64,${btoa(unescape(encodeURIComponent(module)))}`);
      const engine = await Engine.load(await WebAssembly.compileStreaming(fetch(pathOfEngine)));
      const files = await (await fetch('/api/v1/season')).json();
      engine.putWeather(await (await fetch('/api/v1/weather')).json());
      engine.open(files);
      globalThis.engine = engine;
      globalThis.heading = files['beets.csv'].split('\n')[0];
      return JSON.parse(engine.ask('advice', { field: 'Chalk Ridge' }).text).verdict;
    },
    [source, `/assets/${readdirSync(new URL('../build/web/assets', import.meta.url)).find((name) => name.endsWith('.wasm'))}`],
  );
  const adviseAfterChecks = (checks) =>
    thread.evaluate((many) => {
      const names = globalThis.heading.split(',').map((name) => name.replace(/ \[.*/, ''));
      const beet = { field: 'Chalk Ridge', machine: 'Harvester South', seen_at: 'tank', spot: '1', topping: 'correct', tip_break: '2-4', rot: 'no', frost: 'no' };
      const rows = [];
      const times = [];
      for (let check = 0; check < many; ++check) {
        const sheet = `00000000-0000-7000-8000-${String(check).padStart(12, '0')}`;
        const at = new Date(Date.UTC(2031, 9, 5, 14, check)).toISOString();
        for (let i = 0; i < 20; ++i) rows.push(names.map((name) => ({ ...beet, sheet, at })[name] ?? '').join(','));
        const from = performance.now();
        globalThis.engine.addWaiting({ 'beets.csv': `${[globalThis.heading, ...rows].join('\n')}\n` });
        globalThis.engine.ask('advice', { field: 'Chalk Ridge' });
        times.push(performance.now() - from);
      }
      return times;
    }, checks);
  const checks = 12;
  for (const rate of [1, slowdown]) {
    await slowing.send('Emulation.setCPUThrottlingRate', { rate });
    console.log(`a check to advice (${prepared})  ${told(await adviseAfterChecks(checks))}${rate > 1 ? `, processor slowed ${rate} times` : ''}`);
  }
} finally {
  await browser.close();
  await server.stop();
  demo.remove();
}
