import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
// @ts-expect-error a plain script without types
import { contractText } from '../../tools/make_contract.mjs';

it('is what docs/reference says', () => {
  const written = readFileSync(new URL('./contract.ts', import.meta.url), 'utf8');
  expect(written, 'run: node tools/make_contract.mjs').toBe(contractText());
});
