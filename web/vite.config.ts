import { readFileSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, transformWithEsbuild, type Plugin } from 'vite';

const workerFile = fileURLToPath(new URL('src/offline/worker.ts', import.meta.url));

/** Emits sw.js: the service worker with the list of built files and a version made from them. */
function shellWorker(): Plugin {
  return {
    name: 'shell-worker',
    apply: 'build',
    enforce: 'post',
    async generateBundle(_, bundle) {
      const built = Object.keys(bundle).filter((file) => !file.endsWith('.map') && file !== 'index.html');
      const files = ['./', ...built.map((file) => `./${file}`), ...publicFiles];
      const version = createHash('sha256');
      for (const [file, output] of Object.entries(bundle)) {
        version.update(file).update(output.type === 'chunk' ? output.code : output.source);
      }
      const source = readFileSync(workerFile, 'utf8');
      const define = { __FILES__: JSON.stringify(files), __VERSION__: JSON.stringify(version.digest('hex').slice(0, 16)) };
      const made = await transformWithEsbuild(source, workerFile, { loader: 'ts', minify: true, define });
      this.emitFile({ type: 'asset', fileName: 'sw.js', source: made.code });
    },
  };
}

/** Files of public/ that the app needs without a network. */
const publicFiles = ['./first.js', './icon.svg', './manifest.webmanifest'];

const behind = process.env['PITWRIGHT_SERVER'] ?? 'http://127.0.0.1:8650';

export default defineConfig({
  base: './',
  plugins: [svelte(), shellWorker()],
  // Components are tested in a browser-like world, so the browser side of Svelte must be taken.
  ...(process.env['VITEST'] ? { resolve: { conditions: ['browser'] } } : {}),
  build: { target: 'es2022', modulePreload: { polyfill: false }, assetsInlineLimit: 0, cssCodeSplit: false },
  server: { proxy: { '/api': behind } },
  preview: { proxy: { '/api': behind } },
  test: { include: ['src/**/*.test.ts'], environment: 'node' },
} as Parameters<typeof defineConfig>[0]);
