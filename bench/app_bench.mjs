// The app in Chromium: what a first load fetches, how long after a touch the screen answers on a processor
// slowed to a quarter, how long a step of the slider takes to be reckoned, how evenly a field's map follows a finger.
// Usage: node app_bench.mjs <folder of the built programs>
import { readdirSync, readFileSync } from 'node:fs';
import { stripTypeScriptTypes } from 'node:module';
import { borderFile, field, logFile } from '../tests/web/ground_steps.mjs';
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

  // The map of a field of 40 ha with relief, contours and zones, dragged about for some seconds: a finger that moves
  // before each frame, and the time from frame to frame.
  const bringing = (part, { name, buffer }) => fetch(new URL(`/api/v1/ground/${part}?${new URLSearchParams({ field, file: name })}`, server.url), { method: 'PUT', body: buffer, headers: { 'X-Beetwright': '1' } });
  for (const [part, file] of [['border', borderFile], ['heights', logFile(bin, demo.work)]]) {
    const answered = await bringing(part, file);
    if (!answered.ok) throw new Error(`${part}: ${await answered.text()}`);
  }
  const touch = { tablet: sizes.tablet, phone: sizes.phone };
  for (const [size, viewport] of Object.entries(touch)) {
    const outside = await browser.newContext({ viewport, hasTouch: true });
    const ground = await outside.newPage();
    await ground.goto(server.url);
    await ground.getByText('In step with the server').waitFor();
    const goTo = (part) => ground.evaluate((hash) => (location.hash = hash), `#/ground/${encodeURIComponent(field)}/${part}`);
    if (size === 'tablet') {
      await goTo('zones');
      await ground.locator('[data-test=ask]').click();
      await ground.locator('[data-test=keep-zones]').click({ timeout: 60_000 });
      await ground.locator('[data-test=waiting]').waitFor({ state: 'detached' });
    }
    await goTo('map');
    await ground.locator('[data-test=map][data-ready]').waitFor();
    await ground.locator('[data-test=zones]').waitFor();
    await ground.locator('[data-test=larger]').click();
    await ground.waitForTimeout(1000); // painted, and come to rest
    const slower = await outside.newCDPSession(ground);
    for (const rate of [1, slowdown]) {
      await slower.send('Emulation.setCPUThrottlingRate', { rate });
      const { frames, isMoving } = await ground.evaluate(
        (long_ms) =>
          new Promise((resolve) => {
            const target = document.querySelector('[data-test=map] .ol-viewport');
            const box = target.getBoundingClientRect();
            const finger = (type, x, y) => target.dispatchEvent(new PointerEvent(type, { bubbles: true, cancelable: true, pointerId: 7, pointerType: 'touch', isPrimary: true, button: type === 'pointermove' ? -1 : 0, buttons: type === 'pointerup' ? 0 : 1, clientX: box.left + box.width / 2 + x, clientY: box.top + box.height / 2 + y }));
            const places = new Set();
            const times = [];
            let begun;
            let last;
            const next = (now) => {
              begun ??= now;
              if (last !== undefined) times.push(now - last);
              last = now;
              places.add(document.querySelector('.relief canvas').style.transform);
              const passed_s = (now - begun) / 1000;
              finger('pointermove', 120 * Math.sin(3 * passed_s), 90 * Math.sin(2.1 * passed_s));
              if (now - begun < long_ms) return requestAnimationFrame(next);
              finger('pointerup', 0, 0);
              resolve({ frames: times, isMoving: places.size > times.length / 2 });
            };
            finger('pointerdown', 0, 0);
            requestAnimationFrame(next);
          }),
        5000,
      );
      if (!isMoving) throw new Error('the map did not follow');
      const each = frames.reduce((sum, one) => sum + one, 0) / frames.length;
      console.log(`map of a field, ${size.padEnd(6)}     ${(1000 / each).toFixed(0)} frames/s, a frame median ${percentile(frames, 0.5).toFixed(1)} ms, 95 % ${percentile(frames, 0.95).toFixed(1)} ms${rate > 1 ? `, processor slowed ${rate} times` : ''}`);
    }
    await outside.close();
  }
} finally {
  await browser.close();
  await server.stop();
  demo.remove();
}
