// A browser and a server for the tests of this folder. With PITWRIGHT=path/to/pitwright they run
// against the real server and its embedded app; without, against web/dev's fixture server and web/dist.
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

export const real = process.env.PITWRIGHT ?? null;

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
  page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()));
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
