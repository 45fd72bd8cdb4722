import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const src = fileURLToPath(new URL('.', import.meta.url));
const order = ['units', 'api', 'offline', 'state', 'parts', 'screens'];

/** Imports of a file that reach a folder below its own; types of the contract may go anywhere. */
function reachesDown(file: string, text: string): string[] {
  const own = order.indexOf(relative(src, file).split('/')[0] ?? '');
  return [...text.matchAll(/^\s*import\s+(type\s)?[^;]*?from '(\.[^']+)'/gm)]
    .filter(([, typeOnly, path]) => {
      const target = relative(src, resolve(dirname(file), path ?? ''));
      return order.indexOf(target.split('/')[0] ?? '') > own && !(typeOnly && target === 'api/contract');
    })
    .map(([, , path]) => `${relative(src, file)} imports ${path}`);
}

const files = (readdirSync(src, { recursive: true }) as string[]).filter(
  (file) => /\.(ts|svelte)$/.test(file) && !file.endsWith('.test.ts') && file.includes('/'));

it('lets every folder use only those before it', () => {
  expect(files.length).toBeGreaterThan(40);
  expect(files.flatMap((file) => reachesDown(join(src, file), readFileSync(join(src, file), 'utf8')))).toEqual([]);
});

it('finds a planted fault', () => {
  expect(reachesDown(join(src, 'units/x.ts'), "import { go } from '../state/route.svelte';\nimport type { Spot } from '../api/contract';"))
    .toEqual(['units/x.ts imports ../state/route.svelte']);
});
