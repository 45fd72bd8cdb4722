// What the screens do: units, questions with something taken out, the pit, the first five minutes, tokens and roles.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { openPage, startBrowser, startFixture, until } from './world.mjs';

let browser;
const fixtures = [];
before(async () => (browser = await startBrowser()));
after(async () => {
  await browser.close();
  for (const fixture of fixtures) await fixture.close();
});

async function at(fragment, options = {}, pageOptions = {}) {
  const fixture = await startFixture(options);
  fixtures.push(fixture);
  const opened = await openPage(browser, pageOptions);
  await opened.page.goto(fixture.url + fragment);
  return { fixture, ...opened };
}

test('°C turns readings and differences together, and readings by hand with them', async () => {
  const { page, fixture, context } = await at('#/burn/demo-live/fire');
  await page.getByText('10° either way').waitFor();
  await page.getByRole('button', { name: '°C' }).click();
  await page.getByText('6° either way').waitFor(); // 10 °F are 5.6 °C, never −12
  assert.ok(fixture.state.asked.some((one) => one.includes('/fire?unit=C')));
  await page.getByRole('link', { name: 'Readings by hand' }).click();
  await page.getByLabel('Reading at left front, °C').fill('131');
  await page.getByRole('button', { name: 'Write down, next spot' }).click();
  await until(() => fixture.state.taps.length === 1, 'it arrives');
  assert.equal(fixture.state.taps[0].value, '131 C');
  await context.close();
});

test('the call: taking a spot out asks the server anew and says what survives', async () => {
  const { page, fixture, context } = await at('#/burn/demo/call');
  await page.getByRole('heading', { name: 'Is the whole chamber hotter?' }).waitFor();
  await page.getByLabel('Leave one probe or one stint out').selectOption({ label: 'without left back' });
  await page.getByText('One word of 5 does not survive without left back').waitFor();
  await page.getByText('Without it, this cannot be asked.').waitFor();
  assert.ok(fixture.state.asked.some((one) => one.includes('/call?') && one.includes('without_spot=left%20back')));
  assert.ok(fixture.state.asked.some((one) => one.includes('call.svg') && one.includes('without_spot=left%20back')));
  assert.match(page.url(), /without_spot=left/); // to be sent to a sceptic
  await page.goBack();
  await page.getByText('does not survive').first().waitFor({ state: 'detached' });
  await page.getByLabel('Leave one probe or one stint out').selectOption({ label: /without stint 3/ }).catch(async () => {
    await page.getByLabel('Leave one probe or one stint out').selectOption('stint:2');
  });
  await until(() => fixture.state.asked.some((one) => one.includes('without_stint=2')), 'the stint is left out');
  await context.close();
});

test('the lay: a number pressed tells how it is known; a place and a heat tell what to dial', async () => {
  const { page, context } = await at('#/burn/demo/lay', {}, { phone: false });
  await page.locator('[data-spot="right back"]').first().click();
  await page.getByRole('heading', { name: 'right back: how do you know?' }).waitFor();
  await page.getByText('Stint 3, B').first().waitFor();
  await page.keyboard.press('Escape');
  await page.getByLabel('Wanted there').fill('warm');
  await page.getByRole('button', { name: 'What to dial?' }).click();
  await page.getByText('“warm” is no temperature').waitFor();
  await page.getByLabel('Wanted there').fill('250');
  await page.getByRole('button', { name: 'What to dial?' }).click();
  await page.getByText('dial 256 °F').first().waitFor();
  await context.close();
});

test('the pit: drawn by pointer and by keys, typed, and kept', async () => {
  const { page, fixture, context } = await at('#/draw', {}, { phone: false });
  await page.getByLabel('Name').first().fill('Long barrel');
  await page.getByLabel('Left to right, in').fill('36');
  await page.getByLabel('Door to back, in').fill('18');
  await page.getByLabel('Door to back, in').press('Tab');
  const plan = page.getByRole('group', { name: 'Plan of the grate' });
  const box = await plan.boundingBox();
  await page.mouse.click(box.x + box.width * 0.25, box.y + box.height * 0.5);
  await page.mouse.click(box.x + box.width * 0.75, box.y + box.height * 0.5);
  const second = page.getByRole('slider', { name: 'Spot 2' });
  await second.focus();
  await page.keyboard.press('ArrowUp');
  await page.getByRole('button', { name: 'Keep this pit' }).click();
  await until(() => fixture.state.pits.some((pit) => pit.id === 'Long barrel'), 'the pit arrives');
  const pit = fixture.state.pits.find((one) => one.id === 'Long barrel');
  assert.equal(pit.name, 'Long barrel');
  assert.ok(Math.abs(pit.width_m - 0.9144) < 1e-9);
  assert.deepEqual(pit.spots.map((spot) => spot.name), ['Spot 1', 'Spot 2']);
  assert.ok(pit.spots[0].x_m < 0.3 && pit.spots[1].x_m > 0.6, JSON.stringify(pit.spots));
  assert.ok(Math.abs(pit.spots[1].y_m - pit.spots[0].y_m - 0.0127) < 0.0065, 'half an inch to the back');
  await context.close();
});

test('a pit that would be refused is said so before it is sent', async () => {
  const { page, fixture, context } = await at('#/pit/Tin%20hopper');
  await page.getByLabel('Channel').nth(1).fill('L1');
  await page.getByLabel('Channel').nth(1).press('Tab');
  await page.getByRole('button', { name: 'Keep this pit' }).click();
  await page.getByText('Two spots say channel “L1”').waitFor();
  assert.ok(!fixture.state.asked.some((one) => one.startsWith('PUT')));
  await context.close();
});

test('the book: an entry waits without the server and arrives once; a correction strikes the old one through', async () => {
  const { page, fixture, context } = await at('#/burn/demo/book');
  await page.getByRole('button', { name: 'Correct entry 2' }).click();
  await page.getByText('Stands now: Temperature: 38°').waitFor();
  await page.getByLabel('Temperature, °F').fill('warm');
  await page.getByLabel('Initials').fill('EF');
  await page.getByText('“warm” is no temperature').waitFor();
  assert.ok(await page.getByRole('button', { name: 'Write it down' }).isDisabled());
  await page.getByLabel('Temperature, °F').fill('36.5');
  fixture.state.down = true;
  await page.getByRole('button', { name: 'Write it down' }).click();
  await page.getByRole('heading', { name: 'Not in the book yet' }).waitFor();
  await page.getByRole('button', { name: 'Look again' }).click();
  await page.getByText('This is the copy kept on this device').waitFor();
  await page.getByRole('button', { name: 'Sign for P' }).click();
  await page.getByText('A signature needs the server').waitFor();
  assert.ok(await page.getByRole('button', { name: 'Sign', exact: true }).isDisabled());
  await page.getByRole('button', { name: 'Close' }).click();
  fixture.state.down = false;
  await until(() => fixture.state.entries.length === 1, 'the entry arrives', 30_000);
  const { what, by, piece, temperature, corrects } = fixture.state.entries[0];
  assert.deepEqual({ what, by, piece, temperature, corrects }, { what: 'reading', by: 'EF', piece: 'P', temperature: '36.5 F', corrects: 2 });
  await page.locator('s', { hasText: 'Temperature: 38°' }).waitFor();
  await page.getByRole('button', { name: 'Sign for P' }).click();
  assert.equal(await page.getByLabel('Initials').inputValue(), 'EF');
  await page.getByRole('button', { name: 'Sign', exact: true }).click();
  await until(() => fixture.state.entries.length === 2, 'the signature arrives');
  assert.deepEqual([fixture.state.entries[1].what, fixture.state.entries[1].piece], ['signature', 'P']);
  await context.close();
});

test('the book says what the server refused, and who may only look cannot write in it', async () => {
  const { page, fixture, context } = await at('#/burn/demo/book');
  fixture.state.refuse = 'the book has no entry 9; it has 7';
  await page.getByRole('button', { name: 'Done to Q' }).click();
  await page.getByRole('textbox', { name: 'What was done' }).fill('rested');
  await page.getByLabel('Initials').fill('EF');
  await page.getByRole('button', { name: 'Write it down' }).click();
  await page.getByText('refused: the book has no entry 9').waitFor();
  await page.getByRole('button', { name: 'Put away' }).click();
  await page.getByRole('heading', { name: 'Not in the book yet' }).waitFor({ state: 'detached' });
  await context.close();
  const looking = await at('#/burn/demo/book', { role: 'look' });
  await looking.page.getByText('Writing down needs another token').waitFor();
  assert.equal(await looking.page.getByRole('button', { name: /Sign|Correct|Take back/ }).count(), 0);
  await looking.context.close();
});

test('an empty store offers the rehearsed burn', async () => {
  const { page, context } = await at('', { empty: true });
  await page.getByRole('heading', { name: 'Nothing has burned here yet' }).waitFor();
  await page.getByRole('button', { name: 'See it finished' }).click();
  await page.getByRole('heading', { name: 'Drip tray moved one inch' }).waitFor();
  await context.close();
});

test('three steps begin a burn, even where the server cannot be reached at that moment', async () => {
  const { page, fixture, context } = await at('#/begin');
  await page.getByRole('button', { name: 'Tin hopper' }).click();
  await page.getByText('left front, left back').waitFor();
  await page.getByLabel('The question').fill('Does the damper matter?');
  fixture.state.down = true;
  await page.getByRole('button', { name: 'The fire is lit' }).click();
  await page.getByRole('button', { name: 'Lid open' }).click();
  fixture.state.down = false;
  await until(() => fixture.state.taps.length === 1, 'the tap arrives after its burn');
  assert.equal(fixture.state.begun[0].title, 'Does the damper matter?');
  assert.equal(fixture.state.begun[0].matters, '10 F');
  assert.equal(fixture.state.taps[0].burn, fixture.state.begun[0].id);
  await context.close();
});

test('a server that wants a token gets it asked for, and a wrong one is said so', async () => {
  const { page, context } = await at('#/burn/demo-live/fire', { token: 'ember' });
  await page.getByLabel('Token').fill('ash');
  await page.getByRole('button', { name: 'Enter' }).click();
  await page.getByText('does not know this token').waitFor();
  await page.getByLabel('Token').fill('ember');
  await page.getByRole('button', { name: 'Enter' }).click();
  await page.getByText('Counting').first().waitFor();
  await context.close();
});

test('who may only look finds no buttons, and the reason', async () => {
  const { page, context } = await at('#/burn/demo-live/fire', { role: 'look' });
  await page.getByText('Writing down needs another token').waitFor();
  assert.equal(await page.getByRole('button', { name: 'Lid open' }).count(), 0);
  await page.goto(page.url().replace(/#.*/, '#/pits'));
  await page.getByText('Writing down needs another token').waitFor();
  assert.equal(await page.getByRole('button', { name: 'Draw a pit' }).count(), 0);
  await context.close();
});

test('the state is said to those whose eyes are on the fire, once a change', async () => {
  const { page, fixture, context } = await at('#/burn/demo-live/fire');
  const said = page.locator('[aria-live="polite"]').first();
  await until(async () => /Counting\. 9 minutes left\. Leave it/.test(await said.textContent()), 'counting is said');
  fixture.state.fire = { state: 'paused', word: 'Lid open', countdown_s: 240, next: 'Close the lid.', counting_s: 660 };
  fixture.tell('lost', {});
  await until(async () => /Lid open\. 4 minutes left\. Close the lid/.test(await said.textContent()), 'the lid is said');
  await context.close();
});
