// Documents of the fixture's burn: the golden call of the C++ tests, and states around it.
import { readFileSync } from 'node:fs';

const golden = (unit) =>
  JSON.parse(readFileSync(new URL(`../../tests/golden/call/tray_moved_${unit}.json`, import.meta.url), 'utf8'));

const degrees = (fahrenheit, unit) => (unit === 'F' ? fahrenheit : (fahrenheit - 32) / 1.8);
const difference = (fahrenheit, unit) => (unit === 'F' ? fahrenheit : fahrenheit / 1.8);

const places = [
  ['left front', 'L1', 0.15, 0.12], ['left back', 'L2', 0.15, 0.33], ['right front', 'R1', 0.6, 0.12], ['right back', 'R2', 0.6, 0.33],
];
const spots = [
  ...places.map(([name, channel, x_m, y_m]) => ({ name, channel, role: 'air', grate: 'main', x_m, y_m, z_m: 0.25 })),
  { name: 'dial', channel: 'dial', role: 'dial', grate: null, x_m: 0.02, y_m: 0.22, z_m: 0.3 },
  { name: 'outside', channel: 'out', role: 'outside', grate: null, x_m: null, y_m: null, z_m: null },
];

export function pitOf() {
  return {
    id: 'Tin hopper', name: 'Tin hopper', width_m: 0.76, depth_m: 0.45, height_m: 0.5,
    grates: [{ name: 'main', height_m: 0.25 }, { name: 'upper', height_m: 0.4 }],
    adjustments: [{ name: 'tray', positions: ['A', 'B'] }], set_point: '250 F', spots,
  };
}

export function burnLines() {
  const sentence = golden('F').sentence;
  const line = (id, title, state, begun, ended, said) => ({ id, title, state, begun, ended, pit: 'Tin hopper', sentence: said });
  return [
    line('demo-live', 'Drip tray moved one inch', 'live', ago(110), null, null),
    line('demo', 'Drip tray moved one inch', 'closed', '2026-05-02T13:00:00-05:00', '2026-05-02T15:55:00-05:00', sentence),
    line('older', 'Stack damper, half and full', 'closed', '2026-04-25T11:05:00-05:00', '2026-04-25T15:40:00-05:00',
      'No odds: nothing moves by more than 3°. The whole chamber may run hotter with the damper full, not yet clear.'),
  ];
}

/** An ISO moment some minutes before now (or after, if negative), at the pit's offset. */
function ago(minutes) {
  const at = new Date(Date.now() - minutes * 60_000 - 5 * 3600_000);
  return `${at.toISOString().slice(0, 19)}-05:00`;
}

export function burnOf(id, unit, taps) {
  const finished = id === 'demo';
  const stints = finished
    ? golden('F').stints.map(({ index, setting, from, to }) => ({ index, setting, from, to }))
    : [['A', 75, 40], ['B', 40, 12], ['B', 12, null]].map(([setting, from, to], index) => ({
        index, setting, from: ago(from), to: to === null ? null : ago(to) }));
  return {
    id, title: 'Drip tray moved one inch', state: finished ? 'closed' : 'live', unit: 'F', matters: 10,
    begun: finished ? '2026-05-02T13:00:00-05:00' : ago(110), ended: finished ? '2026-05-02T15:55:00-05:00' : null,
    pit: pitOf(), spots, stints, taps: taps.map(({ burn, ...tap }) => tap),
  };
}

export function latestOf(unit) {
  const wave = 4 * Math.sin(Date.now() / 43_000);
  const runs = { L1: 9, L2: 7, R1: -6, R2: -8 };
  const air = places.map(([spot, channel]) => ({
    channel, spot, role: 'air', at: ago(0.05), value: degrees(252 + runs[channel] + wave, unit),
    runs: difference(runs[channel], unit) }));
  return [...air,
    { channel: 'dial', spot: 'dial', role: 'dial', at: ago(0.05), value: degrees(250 + wave, unit), runs: null },
    { channel: 'out', spot: 'outside', role: 'outside', at: ago(5), value: degrees(61, unit), runs: null }];
}

export function fireOf(unit, finished) {
  if (finished) {
    return {
      as_of: '2026-05-02T15:55:00-05:00', state: 'closed', word: 'Closed', countdown_s: null, next: 'The burn is over: read the call.',
      next_at: null, next_setting: null, soaked: true, setting: 'A', counting_s: null, needed_s: null,
      clear: ['Heat moves from left to right', 'B is more even'], open: ['Is the whole chamber hotter?'], stints_more: 2,
      trouble: [], sentence: golden('F').sentence, latest: latestOf(unit),
    };
  }
  return {
    as_of: ago(0), state: 'counting', word: 'Counting', countdown_s: 540, next: 'Leave it; change to A at ' + ago(-9).slice(11, 16),
    next_at: ago(-9), next_setting: 'A', soaked: true, setting: 'B', counting_s: 660, needed_s: 1200,
    clear: ['Heat moves from left to right'], open: ['Is the whole chamber hotter?', 'Is it more even?'], stints_more: 2,
    trouble: [{ kind: 'lid', where: null, text: 'The lid was open 75 s at 14:50; that and its recovery are left out.' }],
    sentence: null, latest: latestOf(unit),
  };
}

/** The golden call; "without" only marks it, so that the screen can be looked at. */
export function callOf(unit, withoutSpot, withoutStint) {
  const call = golden(unit === 'C' ? 'C' : 'F');
  if (withoutSpot !== null && withoutSpot !== undefined) {
    call.spots = call.spots.filter((one) => one.spot !== withoutSpot);
    call.tilts[0].changes[0].call = 'too close';
    call.sentence = `Fixture: without ${withoutSpot}. ${call.sentence}`;
  }
  if (withoutStint !== null && withoutStint !== undefined) call.stints = call.stints.filter((one) => one.index !== Number(withoutStint));
  return call;
}

export function layOf(unit, query) {
  const call = callOf(unit, null, null);
  const wanted = query.get('wanted');
  const dialed = (setting) => ({
    where: 'the place asked for', why: '', text: 'fixture', ratio: null, outside: null, per_outside: null, place_sd: null,
    set: { value: degrees(setting === 'A' ? 247 : 256, unit), low: degrees(240, unit), high: degrees(263, unit) } });
  const at = ['A', 'B'].map((setting) => ({
    x: Number(query.get('x')), y: Number(query.get('y')), grate: 'main', setting,
    value: difference(setting === 'A' ? 9 : 0, unit), low: difference(setting === 'A' ? 5 : -4, unit), high: difference(setting === 'A' ? 13 : 4, unit) }));
  return {
    unit, sentence: 'Fixture: at A the left front runs hottest (+9°) and the right back coolest (−8°). At B the map is even.',
    settings: ['A', 'B'].map((setting) => ({
      setting, level: call.level.by_setting[setting],
      within: { band: difference(10, unit), around: 'set point', center: degrees(250, unit), share: setting === 'A' ? 0.62 : 0.94 },
      set_point_for: wanted ? { wanted: Number.parseFloat(wanted), answers: [dialed(setting)] } : null,
    })),
    leave_one_out: [],
    next_spots: [{ grate: 'main', x: 0.38, y: 0.22, variance_fall: 0.3 }, { grate: 'upper', x: 0.38, y: 0.22, variance_fall: 0.2 }],
    at: query.get('x') ? at : [],
  };
}

export function samplesOf(unit) {
  const begun = Date.parse('2026-05-02T13:00:00-05:00') / 1000;
  const runs = { L1: 9, L2: 7, R1: -6, R2: -8, dial: -1 };
  const t = Array.from({ length: 175 }, (_, minute) => begun + 60 * minute + 30);
  return {
    unit,
    channels: Object.entries(runs).map(([channel, run]) => {
      const at = (seconds) => degrees(252 + run + 8 * Math.sin((seconds - begun) / 43), unit);
      return { channel, t, low: t.map((one) => at(one) - 2), high: t.map((one) => at(one) + 2) };
    }),
  };
}
