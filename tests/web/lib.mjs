// What the browser tests share: a server on a season of its own, a browser, looking at a page.
import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export const sizes = {
  phone: { width: 390, height: 844 },
  tablet: { width: 1024, height: 768 },
  desk: { width: 1440, height: 900 },
};

export const launch = () =>
  chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync', '--autoplay-policy=no-user-gesture-required'],
  });

/** A folder of its own with the demo season in a season file; `change` may change its tables before that. */
export function demoSeason(bin, change = () => undefined) {
  const work = mkdtempSync(join(tmpdir(), 'beetwright-app-'));
  const folder = join(work, 'folder');
  const season = join(work, 'season.beet');
  execFileSync(join(bin, 'beetwright_demo_season'), [folder]);
  change(folder);
  execFileSync(join(bin, 'beetwright'), ['import', '--season', season, folder]);
  return { work, folder, season, remove: () => rmSync(work, { recursive: true, force: true }) };
}

/** `beetwright serve`, once it says where it is. */
export async function serve(bin, season, { port = 0, args = [] } = {}) {
  const child = spawn(join(bin, 'beetwright'), ['serve', '--season', season, '--port', String(port), ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  let log = '';
  child.stderr.on('data', (text) => (log += text));
  const gone = new Promise((resolve) => child.on('exit', resolve));
  await new Promise((resolve, reject) => {
    child.stdout.on('data', (text) => {
      said += text;
      // With accounts a second line may follow at once: it is written together with the first.
      if (said.includes('\n')) setTimeout(resolve, 50);
    });
    child.on('exit', () => reject(new Error(`the server ended: ${log}`)));
  });
  const url = said.split('\n')[0];
  return {
    url,
    port: Number(new URL(url).port),
    joinLink: said.match(/\S+#\/join\/\S+/)?.[0],
    kill: async () => {
      child.kill('SIGKILL');
      await gone;
    },
    stop: async () => {
      child.kill('SIGTERM');
      return gone;
    },
  };
}

/** Notes what a page complains of, but for requests that find no server. */
export function listen(page, complaints) {
  page.on('pageerror', (error) => complaints.push(`page: ${error.message}`));
  page.on('console', (message) => {
    if (message.type() === 'error' && !/ERR_CONNECTION|ERR_INTERNET|Failed to load resource/.test(message.text())) complaints.push(`console: ${message.text()}`);
  });
}

/** Runs in the page: all that is not as it should be on a screen. */
function measure() {
  const wrong = [];
  if (document.documentElement.scrollWidth > innerWidth) wrong.push(`${document.documentElement.scrollWidth} wide in a window of ${innerWidth}`);
  const touched = 'button, nav a, a.button, select, input:not([type=checkbox]):not([type=radio]), label.check, summary';
  for (const element of document.querySelectorAll(touched)) {
    const box = element.getBoundingClientRect();
    if (!box.width || element.closest('.hidden')) continue;
    if (element.matches('th button')) continue; // a heading of a table, for desks
    if (box.height < 47.5) wrong.push(`only ${box.height.toFixed(0)} px high: ${element.tagName} ${element.textContent?.trim().slice(0, 30)}`);
  }
  for (const element of document.querySelectorAll('main *')) {
    const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim());
    if (own && element.getClientRects().length && parseFloat(getComputedStyle(element).fontSize) < 12) wrong.push(`text too small: ${element.textContent.trim().slice(0, 30)}`);
  }
  return wrong;
}

/** Looks at a screen: its size, its targets, and, if wanted, axe against WCAG 2.1 AA. */
export async function look(page, name, wrong, withAxe = true) {
  for (const one of await page.evaluate(measure)) wrong.push(`${name}: ${one}`);
  if (!withAxe) return;
  await page.evaluate(axe);
  const { violations } = await page.evaluate(() => globalThis.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'best-practice'] }));
  for (const one of violations) wrong.push(`${name}: ${one.id}: ${one.nodes.map((node) => node.html.slice(0, 90)).slice(0, 3).join(' | ')}`);
}

// What people do on every screen.
export const open = async (page, ...parts) => {
  await page.evaluate((hash) => (location.hash = hash), `#/${parts.map(encodeURIComponent).join('/')}`);
  await page.waitForTimeout(150);
};
export const joinBy = async (page, link, name, password) => {
  await page.goto(link);
  await page.getByLabel('Name').fill(name);
  await page.getByLabel(/Choose a password/).fill(password);
  await page.getByRole('button', { name: 'Join' }).click();
  await page.getByRole('navigation').waitFor();
};
export const inStep = (page) => page.getByText('In step with the server').waitFor();
/** Until the server has all that was recorded: what waits is shown as soon as it is recorded. */
export const sent = async (page) => {
  await page.getByTestId('waiting').waitFor({ state: 'detached' });
  await inStep(page);
};
