// The web app against the real server, end to end: the first five minutes, the rehearsed burn's call
// and lay, a fire that is tapped, a network that goes and comes back.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { axeOf, openPage, startBrowser, startReal, until } from './world.mjs';

let browser, server;
const ask = async (path) => (await fetch(`${server.url}api/${path}`)).json();
before(async () => {
  browser = await startBrowser();
  server = await startReal();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

test('an empty store offers the rehearsed burn; its call stands as the engine made it', async () => {
  const { page, context, complaints } = await openPage(browser);
  await page.goto(server.url);
  await page.getByRole('heading', { name: 'Nothing has burned here yet' }).waitFor();
  await page.getByRole('button', { name: 'See it finished' }).click();
  await page.getByRole('heading', { name: 'Is the whole chamber hotter?' }).waitFor({ timeout: 30_000 });
  const [line] = (await ask('burns')).filter((one) => one.state === 'closed');
  const call = await ask(`burns/${line.id}/call`);
  await page.getByText(call.sentence).first().waitFor();
  const words = await page.locator('p.word').allTextContents();
  const change = call.level.changes[0];
  assert.ok(words.some((one) => one.trim() === change.call), `${words} has ${change.call}`);
  await page.locator('figure svg[role]').first().waitFor();
  assert.equal(await page.locator('figure').count(), 2, 'dots and bars, and the strip');
  assert.deepEqual(complaints, []);
  await context.close();
});

test('a sceptic takes a spot out and the engine calls again', async () => {
  const { page, context } = await openPage(browser, { phone: false });
  const [line] = (await ask('burns')).filter((one) => one.state === 'closed');
  await page.goto(`${server.url}#/burn/${line.id}/call`);
  const call = await ask(`burns/${line.id}/call`);
  const spot = call.spots[0].spot;
  await page.getByLabel('Leave one probe or one stint out').selectOption(`spot:${spot}`);
  await page.getByText(`without ${spot}.`).waitFor({ timeout: 30_000 });
  const other = await ask(`burns/${line.id}/call?without_spot=${encodeURIComponent(spot)}`);
  await page.getByText(other.sentence).first().waitFor();
  assert.deepEqual(await axeOf(page), []);
  await context.close();
});

test('the lay is the picture of the command line, and its numbers can be asked', async () => {
  const { page, context, complaints } = await openPage(browser);
  const [line] = (await ask('burns')).filter((one) => one.state === 'closed');
  await page.goto(`${server.url}#/burn/${line.id}/lay`);
  await page.locator('[data-spot]').first().waitFor({ timeout: 30_000 });
  const drawn = await page.locator('figure svg text').allTextContents();
  const sent = await (await fetch(`${server.url}api/burns/${line.id}/pictures/lay.svg?width=narrow`)).text();
  const texts = [...sent.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((one) => one[1]);
  assert.deepEqual(drawn, texts);
  await page.locator('[data-spot]').first().click();
  await page.getByText('how do you know').first().waitFor();
  assert.deepEqual(complaints, []);
  await context.close();
});

test('a fire begun on the phone: lid, undo, a reading by hand and what was tapped without a network arrive', async () => {
  const { page, context } = await openPage(browser);
  await page.goto(`${server.url}#/draw`);
  await page.getByLabel('Name').first().fill('Test barrel');
  await page.getByLabel('Left to right, in').fill('36');
  await page.getByLabel('Door to back, in').fill('18');
  await page.getByLabel('Door to back, in').press('Tab');
  await page.getByRole('button', { name: 'Another spot' }).click();
  await page.getByRole('button', { name: 'Another spot' }).click();
  await page.getByRole('button', { name: 'Keep this pit' }).click();
  await until(async () => (await ask('pits')).length === 1, 'the pit is kept');

  await page.goto(`${server.url}#/begin`);
  await page.getByRole('button', { name: 'Test barrel' }).click();
  await page.getByLabel('The question').fill('Does the damper matter?');
  await page.getByRole('button', { name: 'The fire is lit' }).click();
  const burn = async () => {
    const line = (await ask('burns')).find((one) => one.title === 'Does the damper matter?');
    return line ? ask(`burns/${line.id}`) : null;
  };
  await until(async () => (await burn()) !== null, 'the burn is begun');

  await page.getByRole('button', { name: 'Lid open' }).click();
  await until(async () => (await burn()).taps.some((tap) => tap.what === 'lid'), 'the lid arrives');
  await page.getByRole('button', { name: 'Undo', exact: true }).first().click();
  await until(async () => (await burn()).taps.some((tap) => tap.what === 'lid' && tap.undone), 'the lid is taken back, and the record stays');

  await page.evaluate(() => navigator.serviceWorker.ready);
  await until(() => page.evaluate(() => caches.keys().then((names) => names.length > 0)), 'the shell is kept');
  await context.setOffline(true);
  await page.getByRole('button', { name: 'Split on' }).click();
  await page.getByText('1 thing waits to be sent').waitFor();  // from here on it is promised
  await page.reload();
  await page.getByText('1 thing waits to be sent').waitFor();
  await page.getByRole('link', { name: 'Readings by hand' }).click();
  await page.getByLabel('Reading at Spot 1').fill('243');
  await page.getByRole('button', { name: 'Write down, next spot' }).click();
  await page.getByText('2 things wait to be sent').waitFor();
  await context.setOffline(false);
  await until(async () => (await burn()).taps.some((tap) => tap.what === 'split'), 'the split arrives');
  const { id } = await burn();
  const fire = await ask(`burns/${id}/fire?unit=F`);
  const newest = fire.latest.find((one) => one.spot === 'Spot 1');
  assert.equal(newest?.value, 243);
  assert.ok(Date.now() - Date.parse(newest.at) < 120_000, `${newest.at} is when it was read`);
  await context.close();
});

test('a live fire is listened to by one stream, and each document is asked for when it changed', async () => {
  const { page, context } = await openPage(browser, { serviceWorkers: 'block' });
  const { id } = await (await fetch(`${server.url}api/demo`, {
    method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ live: true, speed: 60 }),
  })).json();
  const asked = [];
  page.on('request', (request) => request.url().includes('/api/') && asked.push(new URL(request.url()).pathname));
  await page.goto(`${server.url}#/burn/${id}/fire`);
  await page.getByText('Live, heard').waitFor();
  await page.waitForTimeout(4000);
  assert.equal(asked.filter((one) => one.endsWith('/live')).length, 1);
  assert.ok(asked.length < 20, `${asked.length} questions in four seconds: ${asked.join(' ')}`);
  await context.close();
});
