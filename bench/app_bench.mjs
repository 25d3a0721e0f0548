// The app in Chromium: what a first load fetches, how long after a touch the screen answers on a processor
// slowed to a quarter, how long a step of the slider takes to be reckoned.
// Usage: node app_bench.mjs <folder of the built programs>
import { readFileSync } from 'node:fs';
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
  const pack = readFileSync(new URL('../build/app.pack', import.meta.url));
  const own = pack.subarray(0, pack.indexOf('\n\n')).toString().split('\n').slice(1).reduce((sum, line) => sum + Number(line.split(' ')[4]), 0);
  console.log(`first load                 ${loaded.toFixed(0)} ms to the season on screen; the app with its engine is ${(own / 1000).toFixed(0)} kB`);

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
} finally {
  await browser.close();
  await server.stop();
  demo.remove();
}
