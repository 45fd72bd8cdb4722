// Nothing tapped is lost: without a network, over a reload, with a server that goes and comes back.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { openPage, startBrowser, startFixture, until } from './world.mjs';

let browser, fixture;
before(async () => (browser = await startBrowser()));
after(async () => {
  await browser.close();
  await fixture.close();
});

async function atFire() {
  await fixture?.close();
  fixture = await startFixture();
  const opened = await openPage(browser);
  await opened.page.goto(`${fixture.url}#/burn/demo-live/fire`);
  await opened.page.getByText('Counting').first().waitFor();
  return opened;
}

test('without a network: the app opens, taps are kept over a reload, and arrive once each, in order', async () => {
  const { page, context } = await atFire();
  await page.evaluate(() => navigator.serviceWorker.ready);
  await until(() => page.evaluate(() => caches.keys().then((names) => names.some((name) => name.startsWith('pitwright-shell-')))), 'the shell is kept');
  await context.setOffline(true);
  fixture.state.down = true;
  await page.getByRole('button', { name: 'Lid open' }).click();
  await page.getByRole('button', { name: 'Split on' }).click();
  await page.getByRole('button', { name: 'I changed it to A' }).click();
  await page.getByText('3 things wait to be sent').waitFor();

  await page.reload();
  await page.getByText('3 things wait to be sent').waitFor();
  await page.getByText('Counting').first().waitFor(); // the kept copy
  await page.getByText('kept here, not sent yet').first().waitFor();
  await page.getByText('No connection').waitFor();

  fixture.state.down = false;
  await context.setOffline(false);
  await until(() => fixture.state.taps.length === 3, 'the taps arrive');
  assert.deepEqual(fixture.state.taps.map((tap) => tap.what), ['lid', 'split', 'changed']);
  assert.equal(fixture.state.taps[2].setting, 'A');
  await page.getByText('wait to be sent').waitFor({ state: 'detached' });
  await context.close();
});

test('a tap that never left this device is taken back without a trace; one that did is undone at the server', async () => {
  const { page, context } = await atFire();
  await context.setOffline(true);
  await page.getByRole('button', { name: 'Fuel in' }).click();
  await page.getByRole('button', { name: 'Undo', exact: true }).first().click();
  await page.getByText('Taken back: fuel in').waitFor();
  await context.setOffline(false);
  await page.getByRole('button', { name: 'Lid open' }).click();
  await until(() => fixture.state.taps.length === 1, 'the lid arrives');
  await page.getByRole('button', { name: 'Lid closed' }).waitFor(); // one button, the other face
  await page.getByRole('button', { name: 'Undo', exact: true }).first().click();
  await until(() => fixture.state.taps[0].undone, 'the lid is undone');
  assert.deepEqual(fixture.state.taps.map((tap) => tap.what), ['lid']);
  await page.getByText('taken back').first().waitFor();
  await context.close();
});

test('a server that goes away is said so, the count goes on, and it is found again by itself', async () => {
  const { page, context } = await atFire();
  await page.getByText('Live, heard').waitFor();
  fixture.state.down = true;
  for (const viewer of fixture.state.viewers) viewer.destroy();
  await page.getByText('No connection').waitFor();
  await page.getByText('min left').waitFor();
  fixture.state.down = false;
  await page.getByText('Live, heard').waitFor();
  await context.close();
});

test('what the server refuses is kept and shown with its reason', async () => {
  const { page, context } = await atFire();
  fixture.state.refuse = 'The burn is closed: open it again first.';
  await page.getByRole('button', { name: 'Lid open' }).click();
  await page.getByText('refused: The burn is closed').waitFor();
  await page.getByText('1 refused').waitFor();
  await context.close();
});

test('readings by hand: six numbers in walk-round order', async () => {
  const { page, context } = await atFire();
  await page.getByRole('link', { name: 'Readings by hand' }).click();
  await page.getByRole('heading', { name: 'left front' }).waitFor();
  await page.getByLabel('Reading at left front').fill('268');
  await page.getByRole('button', { name: 'more by 1', exact: true }).click();
  await page.getByRole('button', { name: 'Write down, next spot' }).click();
  await page.getByRole('heading', { name: 'left back' }).waitFor();
  await page.getByRole('button', { name: 'less by 10' }).click();
  const shown = await page.getByLabel('Reading at left back').inputValue();
  await page.getByRole('button', { name: 'Write down, next spot' }).click();
  await until(() => fixture.state.taps.length === 2, 'both arrive');
  assert.deepEqual(fixture.state.taps.map((tap) => [tap.what, tap.spot, tap.value]), [
    ['reading', 'left front', '269 F'], ['reading', 'left back', `${shown} F`],
  ]);
  await context.close();
});
