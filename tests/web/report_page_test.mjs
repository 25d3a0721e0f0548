// The report page in a real browser, at phone, tablet and desk size, in both systems of units: it fits,
// its text can be read, its band is drawn to scale, it asks nothing of the network, a keyboard gets
// about in it, and axe finds nothing against WCAG 2.1 AA.
// Usage: node report_page_test.mjs <folder of the built programs> [folder for pictures]
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const [bin, wantedPictures] = process.argv.slice(2);
const work = mkdtempSync(join(tmpdir(), 'beetwright-report-'));
const pictures = wantedPictures ?? join(work, 'pictures');
mkdirSync(pictures, { recursive: true });
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const sizes = [
  { name: 'phone', width: 390, height: 844 },
  { name: 'tablet', width: 1024, height: 768 },
  { name: 'desk', width: 1440, height: 900 },
];

/** Runs in the page: everything that is not as it should be, and what was looked at. */
function measure() {
  const wrong = [];
  const root = document.documentElement;
  if (root.scrollWidth > innerWidth) wrong.push(`the page is ${root.scrollWidth} wide in a window of ${innerWidth}`);
  let smallest = 99;
  let texts = 0;
  for (const element of document.querySelectorAll('body *')) {
    const own = [...element.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
    if (!own || !element.getClientRects().length) continue;
    let size = parseFloat(getComputedStyle(element).fontSize);
    const svg = element.closest('svg');
    if (svg) size *= svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    smallest = Math.min(smallest, size);
    texts += 1;
  }
  if (smallest < 12) wrong.push(`the smallest text is ${smallest.toFixed(1)} px`);
  for (const link of document.querySelectorAll('nav a')) {
    const height = link.getBoundingClientRect().height;
    if (height < 48) wrong.push(`a link is ${height} px high`);
  }
  let bands = 0;
  for (const svg of document.querySelectorAll('svg.falling-band')) {
    if (!svg.getClientRects().length) continue;
    bands += 1;
    const box = svg.getBoundingClientRect();
    for (const text of svg.querySelectorAll('text')) {
      const r = text.getBoundingClientRect();
      if (r.right > box.right + 1 || r.left < box.left - 1) wrong.push(`cut off: ${text.textContent}`);
    }
    const band = svg.querySelector('.band').getBBox();
    const peels = [...svg.querySelectorAll('.peel')];
    for (const peel of peels) {
      // A peel is as thick at its end as its loss is of the band; its box is at least that high.
      const told = parseFloat(peel.dataset.width);
      if (peel.getBBox().height < told) wrong.push(`a peel is thinner than its loss: ${peel.dataset.line}`);
      if (told > band.width) wrong.push(`a loss is wider than the crop: ${peel.dataset.line}`);
    }
    const sum = peels.reduce((s, p) => s + parseFloat(p.dataset.width), 0);
    const points = svg.querySelector('.band').getAttribute('d');
    const right = parseFloat(points.slice(1));
    const last = points.match(/L([\d.]+) [\d.]+L[\d.]+ [\d.]+L[\d.]+ [\d.]+Z$/);
    if (Math.abs(right - sum - parseFloat(last[1])) > 0.1) wrong.push('the band does not narrow by its losses');
  }
  const ids = [...document.querySelectorAll('[id]')].map((e) => e.id);
  if (new Set(ids).size !== ids.length) wrong.push('an id stands twice');
  for (const link of document.querySelectorAll('a[href^="#"]')) {
    if (!document.getElementById(link.getAttribute('href').slice(1))) wrong.push(`a link leads nowhere: ${link.textContent}`);
  }
  if (performance.getEntriesByType('resource').length) wrong.push('something was fetched');
  return { wrong, texts, bands, smallest };
}

/** What axe has against the page as it stands. */
async function violations(page) {
  await page.evaluate(axe);
  const { violations: found, passes } = await page.evaluate(() =>
    window.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'best-practice'] }),
  );
  if (passes.length < 10) return ['axe looked at next to nothing'];
  return found.map((v) => `axe ${v.id}: ${v.help}, at ${v.nodes.slice(0, 3).map((n) => n.target.join(' ')).join('; ')}`);
}

/** Tab reaches every link, summary and scrolling table, in order, and shows where it is. */
async function keyboard(page) {
  const wanted = await page.locator('a[href], summary, [tabindex="0"]').evaluateAll(
    (all) => all.filter((e) => e.getClientRects().length).length,
  );
  const wrong = [];
  let reached = 0;
  for (; reached < Math.min(wanted, 40); reached += 1) {
    await page.keyboard.press('Tab');
    const seen = await page.evaluate(() => {
      const at = document.activeElement;
      const style = getComputedStyle(at);
      return { tag: at.tagName, ring: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2, top: at.getBoundingClientRect().top };
    });
    if (seen.tag === 'BODY') break;
    if (!seen.ring) wrong.push(`no ring shows that a ${seen.tag} has the keyboard`);
  }
  if (reached < Math.min(wanted, 40)) wrong.push(`Tab reached ${reached} of ${wanted} places`);
  const summary = page.locator('details > summary').first();
  await summary.focus();
  await page.keyboard.press('Enter');
  if (!(await page.locator('details').first().evaluate((d) => d.open))) wrong.push('Enter does not open a table');
  return wrong;
}

let failed = false;
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});
try {
  const season = join(work, 'season');
  execFileSync(join(bin, 'beetwright_demo_season'), [season]);
  for (const units of ['metric', 'us']) {
    const file = join(work, `${units}.html`);
    execFileSync(join(bin, 'beetwright'), ['report', '--season', season, '--units', units, '--out', file]);
    for (const { name, width, height } of sizes) {
      const page = await browser.newPage({ viewport: { width, height } });
      const errors = [];
      page.on('pageerror', (error) => errors.push(`script: ${error.message}`));
      page.on('console', (message) => message.type() === 'error' && errors.push(`console: ${message.text()}`));
      await page.goto(pathToFileURL(file).href);
      const { wrong, texts, bands, smallest } = await page.evaluate(measure);
      await page.screenshot({ path: join(pictures, `${units}-${name}.png`), clip: { x: 0, y: 0, width, height: 2200 }, fullPage: true });
      wrong.push(...errors, ...(await violations(page)), ...(await keyboard(page)));
      console.log(`${units} ${name}: ${texts} texts, ${bands} bands, smallest text ${smallest.toFixed(1)} px`);
      for (const one of wrong) console.log(`  FAILED ${one}`);
      failed ||= wrong.length > 0 || bands < 20;
      await page.close();
    }
  }
} finally {
  await browser.close();
  rmSync(work, { recursive: true, force: true });
}
process.exit(failed ? 1 : 0);
