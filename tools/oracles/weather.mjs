// Works out reference values for the sun and for humid air with two libraries from npm, over random places,
// instants and airs. Usage: node weather.mjs <file to write>
import { writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { getSpa } from 'nrel-spa';

const psychrolib = createRequire(import.meta.url)('psychrolib');
psychrolib.SetUnitSystem(psychrolib.SI);

// Numbers of no meaning that come out alike each time (Park and Miller's generator).
let state = 20310915;
const random = (low, high) => {
  state = (state * 48271) % 2147483647;
  return low + ((high - low) * state) / 2147483647;
};

const lines = ['# Written by tools/oracles/weather.mjs: nrel-spa 2.0.2 (angles in degrees, azimuth from north through east), psychrolib 1.1.1 (SI).'];
const put = (name, value) => lines.push(`${name},${value}`);
for (let i = 0; i < 200; ++i) {
  const at = Math.round(random(Date.UTC(1990, 0, 1), Date.UTC(2060, 0, 1)) / 1000) * 1000;
  const [latitude, longitude, elevation, pressure, temperature] = [random(-65, 70), random(-179, 179), random(-50, 3000), random(700, 1040), random(-25, 40)];
  const { zenith, azimuth } = getSpa(new Date(at), latitude, longitude, 0, { elevation, pressure, temperature, delta_t: 67, delta_ut1: 0, function: 0 });
  for (const [name, value] of Object.entries({ at, latitude, longitude, elevation, pressure, temperature, zenith, azimuth })) put(`sun ${i} ${name}`, value);
}
for (let i = 0; i < 200; ++i) {
  const [air, humidity, pressure] = [random(-40, 50), random(0.02, 1), random(60000, 105000)];
  const vapour = psychrolib.GetVapPresFromRelHum(air, humidity);
  const ratio = psychrolib.GetHumRatioFromVapPres(vapour, pressure);
  const wet = air - random(0, 8);
  const values = {
    air, humidity, pressure, vapour, ratio, wet,
    dew: psychrolib.GetTDewPointFromVapPres(air, vapour),
    enthalpy: psychrolib.GetMoistAirEnthalpy(air, ratio),
    volume: psychrolib.GetMoistAirVolume(air, ratio, pressure),
    ratio_of_wet: psychrolib.GetHumRatioFromTWetBulb(air, wet, pressure),
  };
  for (const [name, value] of Object.entries(values)) put(`air ${i} ${name}`, value);
}
writeFileSync(process.argv[2], `${lines.join('\n')}\n`);
