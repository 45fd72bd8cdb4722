// What the app costs a browser: a live burn of 60 channels at 1 Hz, watched for 20 s.
//   node bench/browser.mjs [PITWRIGHT]      (default: build/bench/app/cli/pitwright)
// Prints the share of one core that the page's main thread spends in script, and in all its work, as
// Chromium's own counters tell (Performance.getMetrics; goal: script under 20 %).
process.env.PITWRIGHT ??= process.argv[2] ?? 'build/bench/app/cli/pitwright';
const { openPage, startBrowser, startReal } = await import('../tests/browser/world.mjs');

const channels = Number(process.env.CHANNELS ?? 60), seconds = 20, history_min = 60;
const names = Array.from({ length: channels }, (_, n) => `T${n + 1}`);
const pause = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

const server = await startReal();
const browser = await startBrowser();
async function post(path, body) {
  const answer = await fetch(`${server.url}api/${path}`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
  if (!answer.ok) throw new Error(`${path}: ${await answer.text()}`);
}
const readings = (at_ms) => names.map((channel, n) => ({
  channel, at: new Date(at_ms).toISOString(), value: 250 + n / 3 + 8 * Math.sin(at_ms / 43000 + n) + Math.random(),
}));

async function counters(session) {
  const { metrics } = await session.send('Performance.getMetrics');
  const at = (name) => metrics.find((one) => one.name === name).value;
  return { at: at('Timestamp'), script: at('ScriptDuration'), task: at('TaskDuration'), layout: at('LayoutDuration') + at('RecalcStyleDuration'), heap: at('JSHeapUsedSize') };
}

try {
  const now = Date.now();
  await post('burns', {
    id: 'load', title: 'Sixty channels', unit: 'F', matters: '10 F', pit: null, setting: 'A', begun: new Date(now - history_min * 60_000).toISOString(),
    spots: names.map((name, n) => ({ name, channel: name, role: 'air', grate: 'main', x_m: 0.1 * (n % 10), y_m: 0.1 * Math.floor(n / 10), z_m: 0.2 })),
  });
  for (let minute = history_min; minute > 0; minute -= 10)
    await post('burns/load/readings', { unit: 'F', readings: Array.from({ length: 200 }, (_, k) => readings(now - minute * 60_000 + k * 3000)).flat() });
  const { page, context } = await openPage(browser, { serviceWorkers: 'block' });
  const session = await context.newCDPSession(page);
  await session.send('Performance.enable', { timeDomain: 'timeTicks' });
  await page.goto(`${server.url}#/burn/load/fire`);
  await page.getByText('Live, heard').waitFor({ timeout: 60_000 });
  let going = true, posted = 0;
  const feeding = (async () => {
    for (const start = Date.now(); going; posted += 1) {
      await post('burns/load/readings', { unit: 'F', readings: readings(Date.now()) });
      await pause(Math.max(0, start + (posted + 1) * 1000 - Date.now()));
    }
  })();
  await pause(5000); // the first drawing is not what is asked
  const shown = () => page.getByRole('cell').allTextContents();
  const early = await shown();
  const first = await counters(session);
  const before = posted;
  await pause(seconds * 1000);
  const last = await counters(session);
  const rounds = posted - before;
  const late = await shown();
  if (late.length < channels || late.join() === early.join()) throw new Error(`the screen does not follow: ${late.slice(0, 5)}`);
  going = false;
  await feeding;
  const share = (what) => ((100 * (last[what] - first[what])) / (last.at - first.at)).toFixed(1);
  console.log(`${channels} channels at 1 Hz, ${(last.at - first.at).toFixed(0)} s, ${rounds} rounds of readings: script ${share('script')} % of one core, all of the main thread ${share('task')} % (layout and style ${share('layout')} %); script memory ${(first.heap / 2 ** 20).toFixed(1)} MB to ${(last.heap / 2 ** 20).toFixed(1)} MB`);
  await context.close();
} finally {
  await browser.close();
  await server.close();
}
