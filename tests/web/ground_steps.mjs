// What the test of the ground's screens needs of a field: its files, and fingers.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

export const field = 'Hollow Oak';
/** Its corners, as the demo has them. */
export const corners = [[6.99557007, 53.99666819], [7.0071012, 53.99914803], [7.00448719, 54.00336797], [6.99295505, 54.00088788]];
const shape = (ring) => JSON.stringify({ type: 'Feature', properties: { name: field }, geometry: { type: 'Polygon', coordinates: [[...ring, ring[0]]] } });
export const borderFile = { name: 'hollow_oak.geojson', mimeType: 'application/geo+json', buffer: Buffer.from(shape(corners)) };
/** Two corners in each other's place: its sides cross. */
export const crossedFile = { ...borderFile, name: 'crossed.geojson', buffer: Buffer.from(shape([corners[0], corners[2], corners[1], corners[3]])) };
/** Latitude where longitude belongs. */
export const swappedFile = { ...borderFile, name: 'swapped.geojson', buffer: Buffer.from(shape(corners.map(([longitude, latitude]) => [latitude, longitude]))) };

/** What the receiver on the lifter wrote down there. */
export function logFile(bin, work) {
  const path = join(work, 'hollow_oak.csv');
  execFileSync(join(bin, 'beetwright_demo_season'), [join(work, 'for_the_log'), '--log', path]);
  return { name: 'hollow_oak.csv', mimeType: 'text/csv', buffer: readFileSync(path) };
}

/** Part of the way along the field, and part of the way across; degrees. */
export const at = (along, across) => ({
  longitude: corners[0][0] + (corners[1][0] - corners[0][0]) * along + (corners[3][0] - corners[0][0]) * across,
  latitude: corners[0][1] + (corners[1][1] - corners[0][1]) * along + (corners[3][1] - corners[0][1]) * across,
});

/** The map's frame, at the top of the window. */
const frameOf = async (page) => {
  await page.getByTestId('map-frame').evaluate((frame) => frame.scrollIntoView({ block: 'start' }));
  return page.getByTestId('map').boundingBox();
};

/** A tap so far from the middle of the map. */
export async function tapMap(page, right, down) {
  const box = await frameOf(page);
  await page.touchscreen.tap(box.x + box.width / 2 + right, box.y + box.height / 2 + down);
}

/** A finger that drags, as the browser has it from a screen. */
export async function dragOnMap(page, cdp, from, to) {
  const box = await frameOf(page);
  const place = ([right, down]) => ({ x: box.x + box.width / 2 + right, y: box.y + box.height / 2 + down });
  const [begin, end] = [place(from), place(to)];
  const steps = 8;
  await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [begin] });
  for (let i = 1; i <= steps; ++i) {
    const share = i / steps;
    await cdp.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x: begin.x + (end.x - begin.x) * share, y: begin.y + (end.y - begin.y) * share }] });
  }
  await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}

/** Whether anything is drawn on the map's canvases in this colour, within a few steps of each of its parts. */
export const hasColour = (page, rgb, within = 12) =>
  page.getByTestId('map').evaluate(
    (map, [wanted, slack]) =>
      [...map.querySelectorAll('canvas')].some((canvas) => {
        if (!canvas.width || !canvas.height) return false;
        const { data } = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
        for (let i = 0; i < data.length; i += 4) if (data[i + 3] > 200 && wanted.every((one, j) => Math.abs(data[i + j] - one) <= slack)) return true;
        return false;
      }),
    [rgb, within],
  );
