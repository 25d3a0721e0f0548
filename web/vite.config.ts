// Builds the app into build/web: hashed files, the engine among them, and a service worker that knows
// them all by name, so that the app opens without a network.
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';

const publicFiles = ['/icon.svg', '/manifest.webmanifest'];

/** Writes service-worker.js with the list of all files that make up this version. */
function serviceWorker(): Plugin {
  return {
    name: 'service-worker',
    generateBundle(_options, bundle) {
      const files = ['/', ...publicFiles, ...Object.keys(bundle).filter((f) => f !== 'index.html').map((f) => `/${f}`)];
      const hash = createHash('sha256');
      for (const file of Object.values(bundle)) hash.update(file.type === 'chunk' ? file.code : file.source);
      const source = readFileSync(new URL('service-worker.js', import.meta.url), 'utf8')
        .replace("'VERSION'", JSON.stringify(hash.digest('hex').slice(0, 12)))
        .replace("['FILES']", JSON.stringify(files));
      this.emitFile({ type: 'asset', fileName: 'service-worker.js', source });
    },
  };
}

export default defineConfig({
  root: new URL('.', import.meta.url).pathname,
  plugins: [svelte(), serviceWorker()],
  build: { outDir: '../build/web', emptyOutDir: true, target: 'es2022', assetsInlineLimit: 0 },
  worker: { format: 'es' },
  server: { fs: { allow: ['..'] } },
});
