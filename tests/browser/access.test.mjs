// Can everybody use it: contrast and names (axe), thumb targets, text of 200 %, keys alone, no
// complaint of the browser under the strict content policy.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { axeOf, openPage, sideways, startBrowser, startFixture } from './world.mjs';

let browser, fixture;
before(async () => {
  browser = await startBrowser();
  fixture = await startFixture();
});
after(async () => {
  await browser.close();
  await fixture.close();
});

const screens = {
  fire: ['#/burn/demo-live/fire', 'Counting'],
  hand: ['#/burn/demo-live/hand', 'Write down, next spot'],
  lay: ['#/burn/demo/lay', 'Where the next probe'],
  call: ['#/burn/demo/call?without_spot=left%20back', 'does not survive without left back'],
  book: ['#/burn/demo/book', 'Rules shown'],
  'no book': ['#/burn/demo-live/book', 'No book yet'],
  past: ['#/past', 'Stack damper'],
  begin: ['#/begin', 'Watch it burn'],
  pits: ['#/pits', 'Tin hopper'],
  pit: ['#/pit/Tin%20hopper', 'Chamber'],
  settings: ['#/settings', 'Without a network'],
};

async function at(name, options, prepare) {
  const opened = await openPage(browser, options);
  if (prepare) await opened.page.addInitScript(prepare);
  const [fragment, words] = screens[name];
  await opened.page.goto(fixture.url + fragment);
  await opened.page.getByText(words).first().waitFor();
  await opened.page.waitForTimeout(400);
  return opened;
}

for (const theme of ['day', 'noon', 'night']) {
  test(`no screen has an axe violation in ${theme}`, async () => {
    for (const name of Object.keys(screens)) {
      const { page, context } = await at(name, {}, `localStorage.setItem('pitwright.settings', '{"theme":"${theme}"}')`);
      assert.deepEqual(await axeOf(page), [], `${name} in ${theme}`);
      await context.close();
    }
  });
}

test('the sheets have no axe violation', async () => {
  const { page, context } = await at('fire', {});
  await page.getByRole('button', { name: 'Note…' }).click();
  assert.deepEqual(await axeOf(page), []);
  await page.getByRole('button', { name: 'Close' }).click();
  await page.getByRole('button', { name: 'Other' }).click();
  assert.deepEqual(await axeOf(page), []);
  await context.close();
  const lay = await at('lay', { phone: false });
  await lay.page.locator('[data-spot="left front"]').first().click();
  await lay.page.getByText('how do you know').first().waitFor();
  assert.deepEqual(await axeOf(lay.page), []);
  await lay.context.close();
});

test('the forms of the book have no axe violation, and their labels say of which piece', async () => {
  const { page, context } = await at('book', {});
  for (const button of ['Done to P', 'Temperature of P', 'Rules for Q', 'Sign for P', 'Correct entry 2', 'Take back entry 2']) {
    await page.getByRole('button', { name: button, exact: true }).first().click();
    await page.getByLabel('Initials').waitFor();
    assert.deepEqual(await axeOf(page), [], button);
    assert.equal(await sideways(page), 0, button);
    await page.getByRole('button', { name: 'Close' }).click();
    await page.getByLabel('Initials').waitFor({ state: 'detached' });
  }
  await context.close();
});

test('the browser complains of nothing under the strict policy, on any screen', async () => {
  for (const name of Object.keys(screens)) {
    for (const phone of [true, false]) {
      const { complaints, context } = await at(name, { phone });
      // That a burn has no book is the server's answer 404, which the browser tells its console too.
      const told = name === 'no book' ? complaints.filter((one) => !/404 .*\/api\/burns\/demo-live\/book$/.test(one)) : complaints;
      assert.deepEqual(told, [], name);
      await context.close();
    }
  }
});

test('no screen scrolls sideways, at 390 px, at 320 px, and with text of 200 %', async () => {
  const twice = "addEventListener('DOMContentLoaded', () => document.documentElement.style.setProperty('font-size', '200%'))";
  for (const name of Object.keys(screens)) {
    for (const [options, prepare] of [[{}, ''], [{ viewport: { width: 320, height: 640 } }, ''], [{}, twice]]) {
      const { page, context } = await at(name, options, prepare);
      assert.equal(await sideways(page), 0, `${name} ${JSON.stringify(options)} ${prepare ? '200 %' : ''}`);
      await context.close();
    }
  }
});

test('what a thumb taps at the fire is at least 60 px high, everything else at least 44', async () => {
  for (const name of Object.keys(screens)) {
    const { page, context } = await at(name, {});
    const small = await page.evaluate(() => {
      const found = [];
      for (const one of document.querySelectorAll('button, a[href], select, input, textarea')) {
        const box = one.getBoundingClientRect();
        if (box.width === 0 || one.closest('p, .skip') && one.matches('a:not(.quiet)')) continue;
        const least = one.matches('.press') ? 60 : 44;
        if (box.height < least || box.width < 44) found.push(`${one.textContent.trim() || one.id}: ${box.width} x ${box.height}`);
      }
      return found;
    });
    assert.deepEqual(small, [], name);
    await context.close();
  }
});

test('keys alone reach and work everything at the fire', async () => {
  const { page, context } = await at('fire', { phone: false });
  const reached = [];
  for (let i = 0; i < 30; ++i) {
    await page.keyboard.press('Tab');
    reached.push(await page.evaluate(() => document.activeElement?.textContent?.trim() ?? ''));
  }
  for (const words of ['To the content', 'Lay', 'I changed it to A', 'Lid open', 'Note…']) {
    assert.ok(reached.some((one) => one.includes(words)), `${words} not reached: ${reached.join(' | ')}`);
  }
  await page.getByRole('button', { name: 'Lid open' }).focus();
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Undo', exact: true }).waitFor();
  await page.getByRole('button', { name: 'Note…' }).focus();
  await page.keyboard.press('Enter');
  await page.getByLabel('What happened').waitFor();
  await page.keyboard.press('Escape');
  await page.getByLabel('What happened').waitFor({ state: 'detached' });
  assert.match(await page.evaluate(() => document.activeElement?.textContent ?? ''), /Note/);
  await context.close();
});

test('who wishes less motion gets none', async () => {
  const { page, context } = await at('fire', { reducedMotion: 'reduce' });
  const moving = await page.evaluate(() =>
    [...document.querySelectorAll('*')].filter((one) => getComputedStyle(one).transitionDuration !== '0s' || getComputedStyle(one).animationName !== 'none').length);
  assert.equal(moving, 0);
  await context.close();
});
