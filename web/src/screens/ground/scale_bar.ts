// A round length that fits beside a map.
import { figure, toMetric, toPeople, unitOf, type Quantity, type System } from '../../units/units.ts';

export interface Bar {
  text: string;
  px: number;
}

/** The longest of 1, 2 or 5 times a power of ten that is no longer than `most_px`. */
export function barFor(metresPerPixel: number, system: System, most_px: number): Bar {
  const most_m = metresPerPixel * most_px;
  const large: Quantity = 'way';
  const km = toPeople(most_m / 1000, large, system);
  const quantity: Quantity = km >= 1 ? large : 'tape';
  const most = km >= 1 ? km : toPeople(most_m, 'tape', system);
  const power = 10 ** Math.floor(Math.log10(most));
  const length = [5, 2, 1].map((one) => one * power).find((one) => one <= most) ?? power;
  const metres = toMetric(length, quantity, system) * (quantity === large ? 1000 : 1);
  return { text: `${figure(length, length < 1 ? 1 : 0)} ${unitOf(quantity, system)}`, px: metres / metresPerPixel };
}
