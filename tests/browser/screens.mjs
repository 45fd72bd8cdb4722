// Draws the app's pictures of the documents: the real server, its rehearsed burn, a real browser.
//   tools/make_screens [FOLDER]      else docs/pictures
import { mkdirSync } from 'node:fs';
import { openPage, startBrowser, startReal, until } from './world.mjs';

const out = process.argv[2];
const speed = 300;
const stint_wanted = 3; // by the third stint there is something to say of a change

const server = await startReal();
const browser = await startBrowser();
const ask = async (path, body) =>
  (await fetch(`${server.url}api/${path}`, body ? { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) } : {})).json();

async function shoot(name, fragment, ready, options = {}) {
  const { page, context } = await openPage(browser, { deviceScaleFactor: 2, serviceWorkers: 'block', ...options });
  await page.goto(`${server.url}${fragment}`);
  await ready(page);
  await page.waitForTimeout(1000);
  await page.screenshot({ path: `${out}/app-${name}.png` });
  await context.close();
}

try {
  mkdirSync(out, { recursive: true });
  const { id: kept } = await ask('demo', { live: false, speed: 60 });
  const { id: live } = await ask('demo', { live: true, speed });
  await until(async () => (await ask(`burns/${live}`)).stints.length >= stint_wanted, 'the third stint', 60_000);
  await until(async () => (await ask(`burns/${live}/fire`)).state === 'counting', 'it counts', 60_000);
  await shoot('fire', `#/burn/${live}/fire`, (page) => page.getByText('Live, heard').waitFor());
  await shoot('lay', `#/burn/${kept}/lay`, (page) => page.locator('[data-spot]').first().waitFor({ timeout: 30_000 }));
  await shoot('call', `#/burn/${kept}/call`, (page) => page.locator('figure svg[role]').first().waitFor({ timeout: 30_000 }));
} finally {
  await browser.close();
  await server.close();
}
