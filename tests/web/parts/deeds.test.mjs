// What the audit says, as sentences.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { deed } from '../../../web/src/words/deeds.ts';

const said = (what, about = '', person = 'Anna') => deed({ at: '2031-10-04T07:45:00.000Z', person, what, about });

test('each deed is a sentence', () => {
  assert.equal(said('joined', 'operator'), 'Anna joined as operator.');
  assert.equal(said('invited', 'viewer'), 'Anna made a link to invite somebody as viewer.');
  assert.equal(said('invited', 'viewer Bero of the mill'), 'Anna made a link to invite Bero of the mill as viewer.');
  assert.equal(said('invited on the command line', 'owner', null), 'Whoever runs the server made a link to invite somebody as owner.');
  assert.equal(said('changed role', 'Bero: the second: viewer to operator'), 'Anna made Bero: the second operator, who was viewer.');
  assert.equal(said('set', 'terms.json'), 'Anna changed the payment terms.');
  assert.equal(said('set', 'weather_forecast.csv: runs: all.csv'), 'Anna brought a forecast from runs: all.csv.');
  assert.equal(said('set', 'weather_usual.csv'), 'Anna changed a usual year’s weather.');
  assert.equal(said('removed', 'weather_observed.csv'), 'Anna took weather that was measured out of the season.');
  assert.equal(said('removed', 'machines.csv: Six: rows'), 'Anna took the machine Six: rows out of the season.');
  assert.equal(said('renamed', 'fields.csv: Home to Far Home'), 'Anna renamed a field: Home to Far Home.');
  assert.equal(said('added a photograph', 'Upper: Sallow: 01a214de-be27-7732-bd09-de4833a5ae34'), 'Anna added a photograph in Upper: Sallow.');
  assert.equal(said('shut out', 'Bero'), 'Anna made Bero inactive.');
});

test('one that the app does not know is still told', () => {
  assert.equal(said('sang', 'loudly', null), 'Somebody at the server: sang, loudly');
});
