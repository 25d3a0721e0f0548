import { selectors } from 'playwright-core';
selectors.setTestIdAttribute('data-test');
import { demoSeason, launch, listen, look, serve, sizes, open, joinBy } from './lib.mjs';
const [bin, pics] = process.argv.slice(2);
const demo = demoSeason(bin);
const server = await serve(bin, demo.season);
const browser = await launch();
const complaints = []; const wrong = [];
let first = true; let state;
for (const size of ['phone', 'tablet', 'desk']) {
  const context = await browser.newContext({ viewport: sizes[size], storageState: state });
  const page = await context.newPage(); listen(page, complaints); page.setDefaultTimeout(15000);
  if (first) { await joinBy(page, server.joinLink, 'Anna', 'beets in long rows'); state = await context.storageState(); first = false; }
  else await page.goto(server.url);
  await page.getByText('In step with the server').waitFor();
  await page.waitForTimeout(4000); await page.screenshot({ path: `${pics}/first.png`, fullPage: true }); console.log(complaints, await page.locator('main').innerText());
  await page.getByTestId('sky').waitFor();
  for (const system of size === 'phone' ? ['metric', 'us'] : ['metric']) {
    await page.evaluate((s) => localStorage.setItem('units', s), system); await page.reload(); await page.getByText('In step with the server').waitFor(); await open(page, 'today');
    await page.getByTestId('sky').waitFor();
    await page.screenshot({ path: `${pics}/today-${size}-${system}.png`, fullPage: true });
    await look(page, `today ${size}`, wrong);
    await open(page, 'fields', 'Cuckoo Pen'); await page.getByTestId('wait').waitFor(); await page.waitForTimeout(600);
    await page.screenshot({ path: `${pics}/field-${size}-${system}.png`, fullPage: true });
    await look(page, `field ${size}`, wrong);
    await open(page, 'weather'); await page.locator('svg').first().waitFor(); await page.waitForTimeout(300);
    await page.screenshot({ path: `${pics}/weather-${size}-${system}.png`, fullPage: true });
    await look(page, `weather ${size}`, wrong);
  }
  await context.close();
}
console.log(complaints, wrong);
await browser.close(); await server.stop(); demo.remove();
