// More of the web app against the real server: the live rehearsed burn, units, people and roles, and
// how much has to be fetched before the first screen.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { axeOf, openPage, startBrowser, startReal, until } from './world.mjs';

let browser;
before(async () => (browser = await startBrowser()));
after(async () => browser.close());

async function withServer(more, use) {
  const server = await startReal(...more);
  try {
    await use(server);
  } finally {
    await server.close();
  }
}

test('the rehearsed burn, played as if it burned now, is told live and in both units', () =>
  withServer([], async (server) => {
    const { page, context, complaints } = await openPage(browser);
    await page.goto(server.url);
    await page.getByRole('button', { name: 'Watch it burn' }).click();
    await page.getByText('Live, heard').waitFor({ timeout: 30_000 });
    const [line] = await (await fetch(`${server.url}api/burns`)).json();
    // The fire goes on between two questions: the page must come to say what the server says.
    await until(async () => {
      const fire = await (await fetch(`${server.url}api/burns/${line.id}/fire`)).json();
      return (await page.getByRole('heading', { level: 1 }).first().textContent()).trim() === fire.word;
    }, 'the page has the word of the server');
    await page.getByText('10° either way').waitFor();
    await page.getByRole('button', { name: '°C' }).click();
    await page.getByText('6° either way').waitFor();
    const inC = await (await fetch(`${server.url}api/burns/${line.id}/fire?unit=C`)).json();
    const value = inC.latest.find((one) => one.role === 'air').value;
    assert.ok(value < 200, `${value} is in °C`);
    await page.getByRole('cell', { name: /^1\d\d°$/ }).first().waitFor();
    assert.deepEqual(await axeOf(page), []);
    // A fire of its first minute has nothing to call yet, and the server says so.
    assert.deepEqual(complaints.filter((one) => !/\/call(\?|$)/.test(one)), []);
    await context.close();
  }));

test('people come in with their token and may do what their role says', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'pitwright-people-'));
  const people = join(folder, 'people.toml');
  const invite = (name, role) =>
    execFileSync(process.env.PITWRIGHT, ['serve', '--people', people, '--invite', name, '--role', role], { encoding: 'utf8' })
      .split('\n').find((line) => /^[A-Za-z0-9_-]{30,}$/.test(line));
  const tokens = { look: invite('Ann', 'look'), own: invite('Ole', 'own') };
  try {
    await withServer(['--people', people, '--host', '127.0.0.1'], async (server) => {
      assert.equal((await fetch(`${server.url}api/me`)).status, 401);
      const enter = async (token) => {
        const { page, context } = await openPage(browser);
        await page.goto(server.url);
        await page.getByLabel('Token').fill(token);
        await page.getByRole('button', { name: 'Enter' }).click();
        return { page, context };
      };
      const wrong = await enter('not-a-token');
      await wrong.page.getByText('does not know this token').waitFor();
      await wrong.context.close();

      const owner = await enter(tokens.own);
      await owner.page.getByRole('button', { name: 'Watch it burn' }).click();
      await owner.page.getByRole('button', { name: 'Lid open' }).click();
      await owner.page.getByText('by Ole').waitFor();
      await owner.page.getByText('Live, heard').waitFor(); // the stream carries the cookie
      await owner.context.close();

      const looker = await enter(tokens.look);
      await looker.page.getByText('You are here as Ann, who may look').waitFor();
      await looker.page.getByText('by Ole').waitFor();
      assert.equal(await looker.page.getByRole('button', { name: 'Lid open' }).count(), 0);
      await looker.context.close();
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test('less than 150 kB of script come before the first screen, and none from elsewhere', () =>
  withServer([], async (server) => {
    const { page, context } = await openPage(browser, { serviceWorkers: 'block' });
    const scripts = [], hosts = new Set();
    page.on('response', (response) => {
      hosts.add(new URL(response.url()).host);
      if (response.request().resourceType() === 'script') scripts.push(response);
    });
    await page.goto(server.url);
    await page.getByRole('button', { name: 'See it finished' }).waitFor();
    const sizes = await Promise.all(scripts.map(async (one) => (await one.request().sizes()).responseBodySize));
    const total = sizes.reduce((sum, one) => sum + one, 0);
    assert.ok(total > 20_000 && total < 150_000, `${total} bytes of script`);
    assert.deepEqual([...hosts], [new URL(server.url).host]);
    await context.close();
  }));
