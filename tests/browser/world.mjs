// A browser and servers for the tests of this folder. PITWRIGHT is the built program: tests of what it
// serves start it on a store of their own. Tests that must steer what a server does (going away,
// refusing, wanting a token) use web/dev's fixture server; WEB_DIST is the built app that it serves.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { startFixture } from '../../web/dev/fixture_server.mjs';

const fromWeb = createRequire(new URL('../../web/package.json', import.meta.url));
const { chromium } = fromWeb('playwright-core');
const axeSource = readFileSync(fromWeb.resolve('axe-core/axe.min.js'), 'utf8');

// The flags keep Debian's Chromium quiet and whole under root and in a container.
export const launch = {
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', headless: true,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
    '--disable-component-update', '--disable-sync'],
};

export const startBrowser = () => chromium.launch(launch);

/** Opens a page and collects everything the browser complains about in `complaints`. */
export async function openPage(browser, { phone = true, ...more } = {}) {
  const viewport = phone ? { width: 390, height: 844 } : { width: 1440, height: 900 };
  const context = await browser.newContext({ viewport, locale: 'en-GB', hasTouch: phone, ...more });
  const page = await context.newPage();
  const complaints = [];
  page.on('console', (message) => message.type() === 'error' && complaints.push(`${message.text()} ${message.location().url}`));
  page.on('pageerror', (failure) => complaints.push(String(failure)));
  page.setDefaultTimeout(15_000);
  return { page, context, complaints };
}

/** Violations of axe's WCAG 2.x A and AA rules, one line each. */
export async function axeOf(page) {
  // As tall as the page, so that nothing lies behind the bar under the thumb while axe measures.
  const { width } = page.viewportSize();
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width, height: Math.max(844, height) });
  await page.evaluate(axeSource);
  const found = await page.evaluate(() =>
    globalThis.axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }));
  return found.violations.flatMap((one) =>
    one.nodes.map((node) => `${one.id}: ${one.help}: ${node.target.join(' ')}: ${node.failureSummary?.split('\n')[1]?.trim() ?? ''}`));
}

/** How far the page scrolls sideways, px. */
export const sideways = (page) => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/** Waits until `question` holds; says what it was waiting for if it never does. */
export async function until(question, what, patience_ms = 15_000) {
  const end = Date.now() + patience_ms;
  for (;;) {
    if (await question()) return;
    if (Date.now() > end) assert.fail(`never happened: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

/** A fixture server; only where a test must see or steer what the server does. */
export { startFixture };

/** Starts `pitwright serve` on a store of its own; gives { url, close, run }. */
export async function startReal(...more) {
  const program = process.env.PITWRIGHT ?? '';
  assert.notEqual(program, '', 'PITWRIGHT must name the built program');
  const folder = mkdtempSync(join(tmpdir(), 'pitwright-browser-'));
  const server = spawn(program, ['serve', '--database', join(folder, 'store.db'), '--port', '0', ...more], { stdio: ['ignore', 'pipe', 'pipe'] });
  const ended = new Promise((resolve) => server.on('exit', resolve));
  let said = '';
  server.stdout.on('data', (data) => (said += data));
  server.stderr.on('data', (data) => (said += data));
  await until(() => /http:\/\/\S+/.test(said) || server.exitCode !== null, 'the server says where it is');
  const url = /http:\/\/\S+/.exec(said)?.[0];
  assert.ok(url, `pitwright serve said: ${said}`);
  return {
    url: url.replace(/\/?$/, '/'),
    said: () => said,
    close: async () => {
      server.kill();
      await ended;
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
