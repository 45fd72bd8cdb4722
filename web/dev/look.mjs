// Takes screenshots of a screen in several dresses, to be looked at.
//   node dev/look.mjs OUT_DIR FRAGMENT [DRESS...]     e.g. /tmp/shots '#/burn/demo-live/fire' phone night
import { mkdirSync } from 'node:fs';
import { chromium } from 'playwright-core';
import { startFixture } from './fixture_server.mjs';

export const launch = {
  executablePath: '/usr/bin/chromium', headless: true,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
};
const dresses = {
  phone: { size: [390, 844] }, laptop: { size: [1440, 900] }, night: { size: [390, 844], theme: 'night' },
  noon: { size: [390, 844], theme: 'noon' }, grey: { size: [390, 844], grey: true }, large: { size: [390, 844], text: 200 },
  laptopnight: { size: [1440, 900], theme: 'night' }, small: { size: [320, 568] },
};

const [out = '/tmp/shots', fragment = '', ...names] = process.argv.slice(2);
mkdirSync(out, { recursive: true });
const elsewhere = process.env.PITWRIGHT_URL;
const fixture = elsewhere ? null : await startFixture({ empty: process.env.EMPTY === '1', role: process.env.ROLE ?? 'own', token: process.env.TOKEN ?? null });
if (fixture && process.env.FIRE) fixture.state.fire = JSON.parse(process.env.FIRE); // e.g. {"state":"paused","word":"Lid open"}
const browser = await chromium.launch(launch);
for (const name of names.length > 0 ? names : Object.keys(dresses)) {
  const { size, theme, grey, text } = dresses[name];
  const context = await browser.newContext({ viewport: { width: size[0], height: size[1] }, deviceScaleFactor: 1, locale: 'en-GB' });
  const page = await context.newPage();
  page.on('console', (message) => ['error', 'warning'].includes(message.type()) && console.log(name, message.text()));
  page.on('pageerror', (failure) => console.log(name, String(failure)));
  if (theme) await page.addInitScript((wish) => localStorage.setItem('pitwright.settings', JSON.stringify({ theme: wish })), theme);
  if (text) await page.addInitScript((wish) => addEventListener('DOMContentLoaded', () => document.documentElement.style.setProperty('font-size', `${wish}%`)), text);
  await page.goto((elsewhere ?? fixture.url) + fragment);
  await page.waitForTimeout(Number(process.env.WAIT ?? 1200));
  if (process.env.CLICK) for (const words of process.env.CLICK.split('|')) { await page.getByText(words, { exact: false }).first().click(); await page.waitForTimeout(500); }
  if (grey) await page.evaluate(() => document.documentElement.style.setProperty('filter', 'grayscale(1)'));
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  if (wide > 0) console.log(name, `scrolls sideways by ${wide} px`);
  await page.screenshot({ path: `${out}/${name}.png`, fullPage: process.env.FULL !== '0' });
  await context.close();
}
await browser.close();
await fixture?.close();
process.exit(0);
